import type { Quantity } from '../quantity.ts'

export const closureHead: Quantity = {
  id: 'closureHead',
  name: 'Pressure rise of the fastest closure',
  symbol: 'Δh_c',
  unit: 'm',
  view: 'm',
  group: 'head',
  ways: [
    {
      formula: 'closurePressure(rho, a, L, meanVelocity(Q, D), T_c) / (rho * g)',
      inputs: { Q: 'discharge', rho: 'waterDensity', g: 'gravity' },
      constants: {
        a: 'penstock.waveSpeed',
        L: 'penstock.length',
        D: 'penstock.bore',
        T_c: 'penstock.closingTime',
      },
      source:
        'Joukowsky a·v/g up to T = 2L/a, Michaud 2·L·v/(g·T) beyond (from memory); information, not protection',
    },
  ],
}
