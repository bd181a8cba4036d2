import type { PermanentMagnetDesign } from '../plants/permanentMagnetGenerator.ts'
import type { Given } from './given.ts'

export function magnetDesign({ need }: Given): PermanentMagnetDesign {
  return {
    emfConstant: need('generator.voltageConstant'),
    polePairs: need('generator.polePairs'),
    resistance: need('generator.windingResistance'),
    inductance: need('generator.windingInductance'),
  }
}
