import type { Quantity } from '../quantity.ts'

export const usefulPower: Quantity = {
  id: 'usefulPower',
  name: 'Power that is not burnt',
  symbol: 'P_u',
  unit: 'W',
  view: 'W',
  group: 'loads',
  ways: [
    {
      formula: 'P - P_d',
      inputs: { P: 'activePower', P_d: 'dumpPower' },
      source: 'definition',
    },
  ],
}
