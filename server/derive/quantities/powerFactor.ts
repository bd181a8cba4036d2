import type { Quantity } from '../quantity.ts'

export const powerFactor: Quantity = {
  id: 'powerFactor',
  name: 'Power factor',
  symbol: 'λ',
  unit: '1',
  view: '1',
  group: 'electrical',
  ways: [
    {
      formula: 'P / S',
      inputs: { P: 'activePower', S: 'apparentPower' },
      valid: [
        {
          test: 'S > 0.02 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'apparent power is below 2 % of rated',
        },
        { test: 'S > 0', otherwise: 'no current' },
      ],
      possible: { low: -1, high: 1.005, suspects: 'phase voltages, phase currents or active power' },
      source: 'λ = P/S',
    },
  ],
}
