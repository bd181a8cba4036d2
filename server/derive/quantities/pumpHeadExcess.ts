import type { Quantity } from '../quantity.ts'

export const pumpHeadExcess: Quantity = {
  id: 'pumpHeadExcess',
  name: 'Pump head beyond its curve',
  symbol: 'ΔH_p',
  unit: 'm',
  view: 'm',
  group: 'condition',
  steady: ['water'],
  ways: [
    {
      formula: 'H_p - H_m',
      inputs: { H_p: 'pumpHead', H_m: 'modelledPumpHead' },
      applies: (plant) => plant.pump !== undefined,
      source: 'common practice, no source: well below zero means wear, air or a blocked strainer',
    },
  ],
}
