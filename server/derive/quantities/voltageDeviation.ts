import { isMagnet, type Quantity } from '../quantity.ts'

export const voltageDeviation: Quantity = {
  id: 'voltageDeviation',
  name: 'Voltage against the machine model',
  symbol: 'ΔU',
  unit: '1',
  view: '%',
  group: 'condition',
  ways: [
    {
      formula: 'mean(U) / U_m - 1',
      inputs: { U: 'phaseVoltage.*', U_m: 'modelledVoltage' },
      applies: isMagnet,
      valid: [
        {
          test: 'U_m > 0.2 * U_r',
          constants: { U_r: 'generator.ratedVoltage' },
          otherwise: 'voltage is below 20 % of rated',
        },
        { test: 'U_m > 0', otherwise: 'no voltage' },
      ],
      source: 'any voltage and current of a permanent-magnet machine checks its k_e, R and L',
    },
  ],
}
