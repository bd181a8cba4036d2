import type { Way } from '../../quantity.ts'
import { type Relation, relation } from '../relation.ts'

const PHASES = {
  U_1: 'phaseVoltage.1',
  U_2: 'phaseVoltage.2',
  U_3: 'phaseVoltage.3',
  I_1: 'phaseCurrent.1',
  I_2: 'phaseCurrent.2',
  I_3: 'phaseCurrent.3',
}

type FactorFrom = Pick<Relation, 'id' | 'name' | 'assumes'> &
  Pick<Way, 'constants'> & { symbol: string; measuredFactor?: string }

/** The power of a meter against its own voltages and currents; the power factor is measured or in the plant file. */
function phaseByPhase({ measuredFactor, ...text }: FactorFrom): Relation {
  const factor = measuredFactor === undefined ? {} : { lambda: measuredFactor }
  return relation({
    ...text,
    unit: 'W',
    view: 'W',
    expected: '(U_1 * I_1 + U_2 * I_2 + U_3 * I_3) * lambda',
    measured: 'P',
    inputs: { ...PHASES, P: 'activePower', ...factor },
    needs: ['activePower', ...Object.values(factor), ...Object.values(PHASES)],
    share: 0.003,
    source: 'sum of the phase powers',
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
