import { hasJets, type Quantity } from '../quantity.ts'

export const specificSpeed: Quantity = {
  id: 'specificSpeed',
  name: 'Specific speed',
  symbol: 'n_q',
  unit: '1',
  view: '1',
  group: 'machine',
  ways: [
    {
      formula: 'specificSpeed(omega, Q / N, H_n)',
      inputs: { omega: 'turbineSpeed', Q: 'discharge', N: 'openJets', H_n: 'netHead' },
      applies: hasJets,
      valid: [
        { test: 'N > 0', otherwise: 'no jet is open' },
        { test: 'H_n > 0', otherwise: 'no net head' },
      ],
      source: 'n_q = n·√Q/H^0.75 per jet, n in min⁻¹',
    },

    {
      formula: 'specificSpeed(omega, Q, H_n)',
      inputs: { omega: 'turbineSpeed', Q: 'discharge', H_n: 'netHead' },
      valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
      source: 'n_q = n·√Q/H^0.75, n in min⁻¹',
    },
  ],
}
