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
          test: 'S > P',
          otherwise: 'apparent power is not above active power: within uncertainty there is none',
        },
      ],
      source: 'Q = √(S² − P²), without its sign',
    },
  ],
}
