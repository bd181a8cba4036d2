import { relation } from '../relation.ts'

export const beltRatio = relation({
  id: 'driveGap',
  name: 'Turbine and generator speed',
  symbol: 'Δn',
  unit: 'rad/s',
  view: '/min',
  expected: 'omega_t * i',
  measured: 'omega',
  inputs: { omega_t: 'turbineSpeed', omega: 'speed' },
  constants: { i: 'turbine.driveRatio' },
  needs: ['turbineSpeed', 'speed'],
  share: 0.005,
  assumes: 'the belt: it slips',
  source: 'ratio of a belt or gear',
})
