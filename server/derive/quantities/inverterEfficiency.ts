import type { Quantity } from '../quantity.ts'

export const inverterEfficiency: Quantity = {
  id: 'inverterEfficiency',
  name: 'Inverter efficiency',
  symbol: 'η_i',
  unit: '1',
  view: '%',
  group: 'efficiency',
  ways: [
    {
      formula: 'P_o / P_i',
      inputs: { P_o: 'inverterOutputPower', P_i: 'inverterInputPower' },
      valid: [
        {
          test: 'P_i > 0.02 * P_r',
          constants: { P_r: 'inverter.ratedPower' },
          otherwise: 'inverter input is below 2 % of rated',
        },
        { test: 'P_i > 0', otherwise: 'no inverter input power' },
      ],
      possible: { low: 0, high: 1, suspects: 'inverter input or output' },
      source: 'definition: output over input',
    },
  ],
}
