import type { Way } from '../../quantity.ts'
import { type Relation, relation } from '../relation.ts'

const PHASES = [1, 2, 3].flatMap((phase) => [`phaseVoltage.${phase}`, `phaseCurrent.${phase}`])

type FactorFrom = Pick<Relation, 'id' | 'name' | 'assumes'> &
  Pick<Way, 'constants'> & { symbol: string; measuredFactor?: string }

/** The power of a meter against its own voltages and currents; the power factor is measured or in the plant file. */
function phaseByPhase({ measuredFactor, ...text }: FactorFrom): Relation {
  const factor = measuredFactor === undefined ? {} : { lambda: measuredFactor }
  return relation({
    ...text,
    unit: 'W',
    view: 'W',
    expected: 'S * lambda',
    measured: 'P',
    inputs: { S: 'apparentPower', P: 'activePower', ...factor },
    needs: ['activePower', ...Object.values(factor), ...PHASES],
    share: 0.003,
    source: 'sum of the phase powers: a wrong ratio of a current transformer shows here',
  })
}

export const meterPower = phaseByPhase({
  id: 'meterGap',
  name: 'Power meter, phase by phase',
  symbol: 'ΔP_m',
  constants: { lambda: 'generator.loadPowerFactor' },
  assumes: 'the power factor of the plant file',
})

export const meterPowerFactor = phaseByPhase({
  id: 'meterFactorGap',
  name: 'Power meter, phase by phase with its power factor',
  symbol: 'ΔP_λ',
  measuredFactor: 'powerFactor',
  assumes: 'the meter',
})
