import type { Quantity } from '../quantity.ts'

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
    {
      formula: '(P - P_d) / P',
      inputs: { P: 'activePower', P_d: 'dumpPower' },
      valid: [
        {
          test: 'P > 0.02 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'active power is below 2 % of rated',
        },
        { test: 'P > 0', otherwise: 'nothing is generated' },
      ],
      source: 'definition: less what is burnt; what the plant itself uses is not measured',
    },
  ],
}
