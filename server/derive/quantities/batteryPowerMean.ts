import type { Quantity } from '../quantity.ts'

export const batteryPowerMean: Quantity = {
  id: 'batteryPowerMean',
  name: 'Battery power, mean of 5 min',
  symbol: 'P_b5',
  unit: 'W',
  view: 'W',
  group: 'storage',
  ways: [
    {
      formula: 'meanOverTime(P_b)',
      inputs: { P_b: 'batteryPower' },
      window: { seconds: 300, take: 'mean' },
      source: 'mean of the last 5 min',
    },
  ],
}
