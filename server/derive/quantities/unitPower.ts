import type { Quantity } from '../quantity.ts'

export const unitPower: Quantity = {
  id: 'unitPower',
  name: 'Unit power',
  symbol: 'P_11',
  unit: '1',
  view: '1',
  group: 'machine',
  ways: [
    {
      formula: 'unitPower(P_s / eta_d, D, H_n)',
      inputs: { P_s: 'shaftPower', H_n: 'netHead' },
      constants: { D: 'turbine.pitchDiameter', eta_d: 'turbine.driveEfficiency' },
      valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
      source: 'P11 = P/(D²·H^1.5), P in kW at the turbine shaft',
    },
  ],
}
