import { isMagnet } from '../../quantity.ts'
import { relation } from '../relation.ts'

export const rectifierVoltage = relation({
  id: 'rectifierVoltageGap',
  name: 'Rectifier voltage',
  symbol: 'ΔU_dc',
  unit: 'V',
  view: 'V',
  expected: '3 * sqrt(2) / pi * sqrt(3) * mean(U) - U_d',
  measured: 'U_dc',
  inputs: { U: 'phaseVoltage.1..3', U_dc: 'dcVoltage' },
  constants: { U_d: 'charger.diodeDrop' },
  needs: ['phaseVoltage.1', 'phaseVoltage.2', 'phaseVoltage.3', 'dcVoltage'],
  applies: isMagnet,
  share: 0.005,
  assumes: 'the rectifier',
  source: 'mean voltage of a six-pulse diode bridge, 3√2/π · line voltage, less two diode drops',
})
