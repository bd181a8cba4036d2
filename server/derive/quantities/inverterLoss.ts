import type { Quantity } from '../quantity.ts'

export const inverterLoss: Quantity = {
  id: 'inverterLoss',
  name: 'Power used in the inverter',
  symbol: 'P_il',
  unit: 'W',
  view: 'W',
  group: 'loads',
  ways: [
    {
      formula: 'P_i - P_o',
      inputs: { P_i: 'inverterInputPower', P_o: 'inverterOutputPower' },
      source: 'definition: input less output; without load it is what the inverter itself takes',
    },
  ],
}
