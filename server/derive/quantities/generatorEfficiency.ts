import type { Quantity } from '../quantity.ts'

export const generatorEfficiency: Quantity = {
  id: 'generatorEfficiency',
  name: 'Generator efficiency',
  symbol: 'η_g',
  unit: '1',
  view: '%',
  group: 'efficiency',
  steady: ['rotor'],
  ways: [
    {
      formula: 'P / (T * omega)',
      inputs: { P: 'activePower', T: 'torque', omega: 'speed' },
      valid: [
        {
          test: 'T * omega > 0.02 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'shaft power is below 2 % of rated',
        },
        { test: 'T * omega > 0', otherwise: 'no shaft power' },
      ],
      possible: { low: 0, high: 1, suspects: 'torque, speed or power' },
      source: 'definition: electrical power over shaft power',
    },
  ],
}
