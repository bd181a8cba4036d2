import { isMagnet, type Quantity } from '../quantity.ts'

export const noLoadVoltage: Quantity = {
  id: 'noLoadVoltage',
  name: 'Voltage without load at this speed',
  symbol: 'U_0',
  unit: 'V',
  view: 'V',
  group: 'electrical',
  ways: [
    {
      formula: 'k_e * omega',
      inputs: { omega: 'speed' },
      constants: { k_e: 'generator.voltageConstant' },
      applies: isMagnet,
      source: 'permanent-magnet machine: E = k_e·n, one phase RMS',
    },
  ],
}
