import type { Quantity } from '../quantity.ts'

export const specificEnergy: Quantity = {
  id: 'specificEnergy',
  name: 'Energy per volume of water',
  symbol: 'e',
  unit: 'J/m3',
  view: 'kW.h/m3',
  group: 'efficiency',
  steady: ['rotor', 'water'],
  ways: [
    {
      formula: 'P / Q',
      inputs: { P: 'activePower', Q: 'discharge' },
      valid: [
        {
          test: 'Q > 0.05 * Q_r',
          constants: { Q_r: 'turbine.ratedDischarge' },
          otherwise: 'discharge is below 5 % of rated',
        },
        { test: 'Q > 0', otherwise: 'no discharge' },
      ],
      source: 'definition: energy made per volume used',
    },
  ],
}
