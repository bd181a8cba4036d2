import { hasFixedNozzles } from '../../quantity.ts'
import { relation } from '../relation.ts'

export const nozzleFlow = relation({
  id: 'nozzleGap',
  name: 'Nozzles',
  symbol: 'ΔQ_j',
  unit: 'm3/s',
  view: 'L/s',
  expected: 'Q_n',
  measured: 'Q',
  inputs: { Q_n: 'nozzleFlow', Q: 'discharge' },
  needs: ['discharge', 'inletPressure'],
  applies: hasFixedNozzles,
  valid: [{ test: 'Q_n > 0', otherwise: 'no jet is open' }],
  steady: ['water'],
  share: 0.01,
  assumes: 'a nozzle or its discharge coefficient',
  source: 'nozzle law Q = Cd·A·√(2gH)',
})
