import type { Quantity } from '../quantity.ts'

export const unitDischarge: Quantity = {
  id: 'unitDischarge',
  name: 'Unit discharge',
  symbol: 'Q_11',
  unit: '1',
  view: '1',
  group: 'machine',
  ways: [
    {
      formula: 'unitDischarge(Q, D, H_n)',
      inputs: { Q: 'discharge', H_n: 'netHead' },
      constants: { D: 'turbine.pitchDiameter' },
      valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
      source: 'Q11 = Q/(D²·√H)',
    },
  ],
}
