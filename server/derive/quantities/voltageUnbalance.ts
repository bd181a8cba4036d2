import type { Quantity } from '../quantity.ts'

export const voltageUnbalance: Quantity = {
  id: 'voltageUnbalance',
  name: 'Voltage unbalance',
  symbol: 'u_U',
  unit: '1',
  view: '%',
  group: 'electrical',
  ways: [
    {
      formula: 'phaseUnbalance(U_1, U_2, U_3)',
      inputs: { U_1: 'phaseVoltage.1', U_2: 'phaseVoltage.2', U_3: 'phaseVoltage.3' },
      valid: [{ test: 'U_1 + U_2 + U_3 > 0', otherwise: 'no voltage' }],
      source: 'largest deviation from the mean over the mean',
    },
  ],
}
