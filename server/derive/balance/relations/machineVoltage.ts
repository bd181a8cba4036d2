import { isMagnet } from '../../quantity.ts'
import { relation } from '../relation.ts'

export const machineVoltage = relation({
  id: 'voltageGap',
  name: 'Generator voltage',
  symbol: 'ΔU_g',
  unit: 'V',
  view: 'V',
  expected: 'U_m',
  measured: 'mean(U)',
  inputs: { U_m: 'modelledVoltage', U: 'phaseVoltage.*' },
  needs: ['phaseVoltage.1', 'phaseCurrent.1'],
  applies: isMagnet,
  share: 0.01,
  assumes: 'the magnets or the winding of the generator',
  source: 'E² = (U + I·R)² + (I·ωL)², E = k·ω',
})
