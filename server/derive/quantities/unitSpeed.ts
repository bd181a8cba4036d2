import type { Quantity } from '../quantity.ts'

export const unitSpeed: Quantity = {
  id: 'unitSpeed',
  name: 'Unit speed',
  symbol: 'n_11',
  unit: '1',
  view: '1',
  group: 'machine',
  ways: [
    {
      formula: 'unitSpeed(omega, D, H_n)',
      inputs: { omega: 'turbineSpeed', H_n: 'netHead' },
      constants: { D: 'turbine.pitchDiameter' },
      valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
      source: 'n11 = n·D/√H, n in min⁻¹',
    },
  ],
}
