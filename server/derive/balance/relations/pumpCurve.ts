import { relation } from '../relation.ts'

export const pumpCurve = relation({
  id: 'pumpGap',
  name: 'Pump curve',
  symbol: 'ΔH_c',
  unit: 'm',
  view: 'm',
  expected: 'H_c',
  measured: 'H_p',
  inputs: { H_c: 'modelledPumpHead', H_p: 'pumpHead' },
  needs: ['pumpSpeed', 'discharge', 'pumpOutletPressure'],
  steady: ['water'],
  share: 0.02,
  assumes: 'the pump, its strainer or its curve',
  source: 'ISO 9906 pump total head; curve of the plant file with the affinity laws',
})
