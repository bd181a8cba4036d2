import type { Quantity } from '../quantity.ts'

export const dcLoadPower: Quantity = {
  id: 'dcLoadPower',
  name: 'Power to direct-current loads',
  symbol: 'P_dl',
  unit: 'W',
  view: 'W',
  group: 'loads',
  ways: [
    {
      formula: 'U * I',
      inputs: { U: 'dcLoadVoltage', I: 'dcLoadCurrent' },
      source: 'P = U·I',
    },
    {
      formula: 'U * I',
      inputs: { U: 'batteryVoltage', I: 'dcLoadCurrent' },
      source: 'P = U·I at the voltage of the battery bus',
    },
  ],
}
