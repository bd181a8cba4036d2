import type { Quantity } from '../quantity.ts'

export const dumpShare: Quantity = {
  id: 'dumpShare',
  name: 'Share burnt in the dump load',
  symbol: 's_d',
  unit: '1',
  view: '%',
  group: 'loads',
  ways: [
    {
      formula: 'P_d / P',
      inputs: { P_d: 'dumpPower', P: 'activePower' },
      valid: [
        {
          test: 'P > 0.02 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'active power is below 2 % of rated',
        },
        { test: 'P > 0', otherwise: 'nothing is generated' },
      ],
      source: 'definition',
    },
  ],
}
