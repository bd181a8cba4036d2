import type { Quantity } from '../quantity.ts'

export const reactivePower: Quantity = {
  id: 'reactivePower',
  name: 'Reactive power',
  symbol: 'Q_r',
  unit: 'var',
  view: 'var',
  group: 'electrical',
  ways: [
    {
      formula: 'sqrt(S^2 - P^2)',
      inputs: { S: 'apparentPower', P: 'activePower' },
      valid: [
        {
          test: 'S > 1.01 * P',
          otherwise: 'apparent and active power are within 1 %: too little to tell',
        },
      ],
      source: 'Q = √(S² − P²), without its sign',
    },
  ],
}
