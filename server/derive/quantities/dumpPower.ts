import type { Quantity } from '../quantity.ts'

export const dumpPower: Quantity = {
  id: 'dumpPower',
  name: 'Dump load power',
  symbol: 'P_d',
  unit: 'W',
  view: 'W',
  group: 'loads',
  ways: [
    {
      formula: 'U * I',
      inputs: { U: 'dumpVoltage', I: 'dumpCurrent' },
      source: 'P = U·I',
    },
  ],
}
