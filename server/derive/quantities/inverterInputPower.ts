import type { Quantity } from '../quantity.ts'

export const inverterInputPower: Quantity = {
  id: 'inverterInputPower',
  name: 'Inverter input power',
  symbol: 'P_i',
  unit: 'W',
  view: 'W',
  group: 'loads',
  ways: [
    {
      formula: 'U * I',
      inputs: { U: 'inverterInputVoltage', I: 'inverterInputCurrent' },
      source: 'P = U·I',
    },
  ],
}
