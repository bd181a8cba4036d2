import { relation } from '../relation.ts'

const PHASES = {
  U_1: 'phaseVoltage.1',
  U_2: 'phaseVoltage.2',
  U_3: 'phaseVoltage.3',
  I_1: 'phaseCurrent.1',
  I_2: 'phaseCurrent.2',
  I_3: 'phaseCurrent.3',
}

export const meterPowerFactor = relation({
  id: 'meterFactorGap',
  name: 'Power meter, phase by phase with its power factor',
  symbol: 'ΔP_λ',
  unit: 'W',
  view: 'W',
  expected: '(U_1 * I_1 + U_2 * I_2 + U_3 * I_3) * lambda',
  measured: 'P',
  inputs: { ...PHASES, P: 'activePower', lambda: 'powerFactor' },
  needs: ['activePower', 'powerFactor', ...Object.values(PHASES)],
  share: 0.003,
  assumes: 'the meter',
  source: 'sum of the phase powers',
})
