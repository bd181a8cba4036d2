import { isMagnet, type Quantity } from '../quantity.ts'

export const voltageRegulation: Quantity = {
  id: 'voltageRegulation',
  name: 'Voltage regulation',
  symbol: 'u_r',
  unit: '1',
  view: '%',
  group: 'electrical',
  ways: [
    {
      formula: '(U_0 - mean(U)) / mean(U)',
      inputs: { U_0: 'noLoadVoltage', U: 'phaseVoltage.*' },
      applies: isMagnet,
      valid: [
        {
          test: 'mean(U) > 0.2 * U_r',
          constants: { U_r: 'generator.ratedVoltage' },
          otherwise: 'voltage is below 20 % of rated',
        },
        { test: 'mean(U) > 0', otherwise: 'no voltage' },
      ],
      source: '(U₀ − U)/U at the present speed, mean of the phases; IEEE 115 (from memory)',
    },
  ],
}
