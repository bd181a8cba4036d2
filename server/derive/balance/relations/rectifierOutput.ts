import { relation } from '../relation.ts'

export const rectifierOutput = relation({
  id: 'rectifierGap',
  name: 'Generator to rectifier',
  symbol: 'ΔP_dc',
  unit: 'W',
  view: 'W',
  expected: 'P * eta_r',
  measured: 'U * I',
  inputs: { P: 'activePower', U: 'dcVoltage', I: 'dcCurrent' },
  constants: { eta_r: 'charger.rectifierEfficiency' },
  needs: ['activePower', 'dcVoltage', 'dcCurrent'],
  share: 0.005,
  assumes: 'the rectifier',
  source: 'definition of efficiency; the constant of the plant file',
})
