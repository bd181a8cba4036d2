import type { FigureRecord } from '../quantity.ts'
import { WATER } from './place.ts'

/** What a closure does to the pipe; information, not protection. */
export const waterHammer: readonly FigureRecord[] = [
  {
    id: 'surgeHead',
    name: 'Highest pressure rise of a sudden closure',
    symbol: 'Δh_s',
    unit: 'm',
    group: 'head',
    background: true,
    formula: 'a * meanVelocity(Q, D) / g',
    inputs: { Q: 'discharge', g: 'gravity' },
    constants: { a: 'penstock.waveSpeed', D: 'penstock.bore' },
    source: 'Joukowsky, for closure faster than 2L/a; information, not protection',
  },
  {
    id: 'closureHead',
    name: 'Pressure rise of the fastest closure',
    symbol: 'Δh_c',
    unit: 'm',
    group: 'head',
    background: true,
    formula: 'closurePressure(rho, a, L, meanVelocity(Q, D), T_c) / (rho * g)',
    inputs: { Q: 'discharge', ...WATER },
    constants: {
      a: 'penstock.waveSpeed',
      L: 'penstock.length',
      D: 'penstock.bore',
      T_c: 'penstock.closingTime',
    },
    source:
      'Joukowsky a·v/g up to T = 2L/a, Michaud 2·L·v/(g·T) beyond (from memory); information, not protection',
  },
  {
    id: 'waterStartTime',
    name: 'Water start time',
    symbol: 'T_w',
    unit: 's',
    group: 'head',
    background: true,
    formula: 'waterStartTime(L, meanVelocity(Q, D), H_n, g)',
    inputs: { Q: 'discharge', H_n: 'netHead', g: 'gravity' },
    constants: { L: 'penstock.length', D: 'penstock.bore' },
    valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
    source: 'T_w = L·v/(g·H)',
  },
]
