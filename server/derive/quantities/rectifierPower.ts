import type { Quantity } from '../quantity.ts'

export const rectifierPower: Quantity = {
  id: 'rectifierPower',
  name: 'Rectifier output power',
  symbol: 'P_dc',
  unit: 'W',
  view: 'W',
  group: 'electrical',
  ways: [
    {
      formula: 'U * I',
      inputs: { U: 'dcVoltage', I: 'dcCurrent' },
      source: 'P = U·I',
    },
  ],
}
