import { relation } from '../relation.ts'

export const inverterPower = relation({
  id: 'inverterGap',
  name: 'Inverter',
  symbol: 'ΔP_o',
  unit: 'W',
  view: 'W',
  expected: 'U * I * etaInverter(P_o / P_r)',
  measured: 'P_o',
  inputs: { U: 'inverterInputVoltage', I: 'inverterInputCurrent', P_o: 'inverterOutputPower' },
  constants: { P_r: 'inverter.ratedPower' },
  curves: { etaInverter: 'inverter.efficiencyCurve' },
  needs: ['inverterInputVoltage', 'inverterInputCurrent', 'inverterOutputPower'],
  share: 0.01,
  assumes: 'the inverter or its efficiency curve',
  source: 'definition of inverter efficiency; the curve of the plant file',
})
