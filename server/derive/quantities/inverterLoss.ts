import type { Quantity } from '../quantity.ts'

export const inverterLoss: Quantity = {
  id: 'inverterLoss',
  name: 'Loss of the inverter',
  symbol: 'P_vi',
  unit: 'W',
  view: 'W',
  group: 'balance',
  ways: [
    {
      formula: 'P_i - P_o',
      inputs: { P_i: 'inverterInputPower', P_o: 'inverterOutputPower' },
      possible: { low: 0, high: Number.POSITIVE_INFINITY, suspects: 'inverter current or output power' },
      source: 'power balance of a stage',
    },
  ],
}
