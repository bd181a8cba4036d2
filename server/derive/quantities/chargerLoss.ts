import { NOT_MEASURED, type Quantity } from '../quantity.ts'

export const chargerLoss: Quantity = {
  id: 'chargerLoss',
  name: 'Loss of the charger',
  symbol: 'P_vc',
  unit: 'W',
  view: 'W',
  group: 'balance',
  ways: [
    {
      formula: 'P_dc - P_b - P_d - P_i - P_l',
      inputs: {
        P_dc: 'rectifierPower',
        P_b: 'batteryPower',
        P_d: 'dumpPower',
        P_i: 'inverterInputPower',
        P_l: 'dcLoadPower',
      },
      defaults: { P_l: NOT_MEASURED },
      valid: [
        {
          test: 'P_dc > 0.05 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'less than 5 % of rated power comes in',
        },
      ],
      possible: { low: 0, high: Number.POSITIVE_INFINITY, suspects: 'a current of the bus' },
      source: 'power balance of the battery bus',
    },
  ],
}
