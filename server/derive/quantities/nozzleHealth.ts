import { hasJets, type Quantity } from '../quantity.ts'

export const nozzleHealth: Quantity = {
  id: 'nozzleHealth',
  name: 'Discharge over that of clean nozzles',
  symbol: 'q_j',
  unit: '1',
  view: '%',
  group: 'condition',
  ways: [
    {
      formula: 'Q / (N * C_d * boreArea(d) * sqrt(2 * g * H_n))',
      inputs: { Q: 'discharge', N: 'openJets', H_n: 'netHead', g: 'gravity' },
      constants: { C_d: 'turbine.nozzleCoefficient', d: 'turbine.nozzleBore' },
      applies: hasJets,
      valid: [
        { test: 'N > 0', otherwise: 'no jet is open' },
        {
          test: 'H_n > 0.1 * H_r',
          constants: { H_r: 'turbine.ratedNetHead' },
          otherwise: 'net head is below 10 % of rated',
        },
      ],
      source:
        'nozzle law Q = Cd·A·√(2gH); below 95 % look, below 85 % something blocks a nozzle (common practice, no source)',
    },
  ],
}
