import type { Quantity } from '../quantity.ts'

export const batteryPower: Quantity = {
  id: 'batteryPower',
  name: 'Battery power (+ charging)',
  symbol: 'P_b',
  unit: 'W',
  view: 'W',
  group: 'storage',
  ways: [
    {
      formula: 'U * I',
      inputs: { U: 'batteryVoltage', I: 'batteryCurrent' },
      source: 'P = U·I',
    },
  ],
}
