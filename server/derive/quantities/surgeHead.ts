import type { Quantity } from '../quantity.ts'

export const surgeHead: Quantity = {
  id: 'surgeHead',
  name: 'Highest pressure rise of a sudden closure',
  symbol: 'Δh_s',
  unit: 'm',
  view: 'm',
  group: 'head',
  ways: [
    {
      formula: 'a * meanVelocity(Q, D) / g',
      inputs: { Q: 'discharge', g: 'gravity' },
      constants: { a: 'penstock.waveSpeed', D: 'penstock.bore' },
      source: 'Joukowsky, for closure faster than 2L/a; information, not protection',
    },
  ],
}
