import { relation } from '../relation.ts'

export const penstockLoss = relation({
  id: 'penstockGap',
  name: 'Penstock loss',
  symbol: 'Δh_f',
  unit: 'm',
  view: 'm',
  expected: 'h_m',
  measured: 'H_g - H_n',
  inputs: { h_m: 'modelledHeadLoss', H_g: 'grossHead', H_n: 'netHead' },
  needs: ['discharge', 'inletPressure', 'headwaterLevel'],
  steady: ['water'],
  share: 0.1,
  assumes: 'the penstock: fouling, air, or a valve that is not open',
  source: 'Darcy–Weisbach, Colebrook–White against the gauges',
})
