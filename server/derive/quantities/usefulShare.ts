import { NOT_MEASURED, type Quantity } from '../quantity.ts'

export const usefulShare: Quantity = {
  id: 'usefulShare',
  name: 'Useful share of what is generated',
  symbol: 's_u',
  unit: '1',
  view: '%',
  group: 'loads',
  ways: [
    {
      formula: '(P - P_d - P_x) / P',
      inputs: { P: 'activePower', P_d: 'dumpPower', P_x: 'auxiliaryPower' },
      defaults: { P_x: NOT_MEASURED },
      valid: [
        {
          test: 'P > 0.02 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'active power is below 2 % of rated',
        },
        { test: 'P > 0', otherwise: 'nothing is generated' },
      ],
      source: 'definition: less what is burnt and what the plant itself uses',
    },
  ],
}
