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
      formula: 'phaseUnbalance(U)',
      inputs: { U: 'phaseVoltage.1..3' },
      valid: [{ test: 'sum(U) > 0', otherwise: 'no voltage' }],
      source: 'largest deviation from the mean over the mean',
    },
  ],
}
