import type { Quantity } from '../quantity.ts'

export const lostPower: Quantity = {
  id: 'lostPower',
  name: 'Power lost over the spillway',
  symbol: 'P_ls',
  unit: 'W',
  view: 'W',
  group: 'water',
  ways: [
    {
      formula: 'P_r * (H_n / H_r) * min(Q_s, max(Q_r, Q) - Q) / Q_r',
      inputs: { Q_s: 'spillFlow', Q: 'discharge', H_n: 'netHead' },
      constants: {
        P_r: 'generator.ratedPower',
        H_r: 'turbine.ratedNetHead',
        Q_r: 'turbine.ratedDischarge',
      },
      estimated: 'at the efficiency of the ratings; only water that the machine could have taken counts',
      source: 'ρ·g·η·H·min(Q_spill, Q_max − Q), with ρ·g·η = P_r/(Q_r·H_r)',
    },
  ],
}
