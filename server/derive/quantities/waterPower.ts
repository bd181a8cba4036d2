import type { FigureRecord } from '../quantity.ts'
import { WATER } from './place.ts'

/** Power that the water brings. */
export const waterPower: readonly FigureRecord[] = [
  {
    id: 'availablePower',
    name: 'Power of the water at gross head',
    symbol: 'P_g',
    unit: 'W',
    group: 'water',
    formula: 'rho * g * Q * H_g',
    inputs: { ...WATER, Q: 'discharge', H_g: 'grossHead' },
    source: 'definition: as hydraulic power, at gross head',
  },
  {
    id: 'hydraulicPower',
    name: 'Hydraulic power',
    symbol: 'P_h',
    unit: 'W',
    group: 'water',
    formula: 'rho * g * Q * H_n',
    inputs: { ...WATER, Q: 'discharge', H_n: 'netHead' },
    source: 'IEC 60041, hydraulic power from specific hydraulic energy E = gH',
  },
  {
    id: 'lostPower',
    name: 'Power lost over the spillway',
    symbol: 'P_ls',
    unit: 'W',
    group: 'water',
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
]
