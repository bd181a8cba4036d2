import { hasFixedNozzles } from '../../quantity.ts'
import { relation } from '../relation.ts'

export const nozzleFlow = relation({
  id: 'nozzleGap',
  name: 'Nozzles',
  symbol: 'ΔQ_j',
  unit: 'm3/s',
  view: 'L/s',
  expected: 'N * C_d * boreArea(d) * sqrt(2 * g * H_n)',
  measured: 'Q',
  inputs: { Q: 'discharge', N: 'openJets', H_n: 'netHead', g: 'gravity' },
  constants: { C_d: 'turbine.nozzleCoefficient', d: 'turbine.nozzleBore' },
  needs: ['discharge', 'inletPressure'],
  applies: hasFixedNozzles,
  valid: [
    { test: 'N > 0', otherwise: 'no jet is open' },
    { test: 'H_n > 0', otherwise: 'no head' },
  ],
  share: 0.01,
  assumes: 'a nozzle or its discharge coefficient',
  source: 'nozzle law Q = Cd·A·√(2gH)',
})
