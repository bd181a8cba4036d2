import { isMagnet } from '../../quantity.ts'
import { relation } from '../relation.ts'

export const rectifierVoltage = relation({
  id: 'rectifierVoltageGap',
  name: 'Rectifier voltage',
  symbol: 'ΔU_dc',
  unit: 'V',
  view: 'V',
  expected: '3 * sqrt(2) / pi * sqrt(3) * (U_1 + U_2 + U_3) / 3 - U_d',
  measured: 'U',
  inputs: { U_1: 'phaseVoltage.1', U_2: 'phaseVoltage.2', U_3: 'phaseVoltage.3', U: 'dcVoltage' },
  constants: { U_d: 'charger.diodeDrop' },
  needs: ['phaseVoltage.1', 'phaseVoltage.2', 'phaseVoltage.3', 'dcVoltage'],
  applies: isMagnet,
  share: 0.005,
  assumes: 'the rectifier',
  source: 'mean voltage of a six-pulse diode bridge, 3√2/π · line voltage, less two diode drops',
})
