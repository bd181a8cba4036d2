import type { Quantity } from '../quantity.ts'

export const waterStartTime: Quantity = {
  id: 'waterStartTime',
  name: 'Water start time',
  symbol: 'T_w',
  unit: 's',
  view: 's',
  group: 'head',
  ways: [
    {
      formula: 'waterStartTime(L, meanVelocity(Q, D), H_n, g)',
      inputs: { Q: 'discharge', H_n: 'netHead', g: 'gravity' },
      constants: { L: 'penstock.length', D: 'penstock.bore' },
      valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
      source: 'T_w = L·v/(g·H)',
    },
  ],
}
