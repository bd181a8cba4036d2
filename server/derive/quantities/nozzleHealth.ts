import { hasJets, isFlowMeasured, type Quantity } from '../quantity.ts'

export const nozzleHealth: Quantity = {
  id: 'nozzleHealth',
  name: 'Discharge over that of clean nozzles',
  symbol: 'q_j',
  unit: '1',
  view: '%',
  group: 'condition',
  steady: ['water'],
  ways: [
    {
      formula: 'Q / Q_n',
      inputs: { Q: 'discharge', Q_n: 'nozzleFlow', H_n: 'netHead' },
      // A discharge that comes from the nozzle law cannot check the nozzles.
      applies: (plant) => hasJets(plant) && isFlowMeasured(plant),
      valid: [
        { test: 'Q_n > 0', otherwise: 'no jet is open' },
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
