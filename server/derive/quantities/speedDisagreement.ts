import { isSynchronousMeasured, type Quantity } from '../quantity.ts'

export const speedDisagreement: Quantity = {
  id: 'speedDisagreement',
  name: 'Speed against electrical frequency',
  symbol: 'Δn',
  unit: '1',
  view: '%',
  group: 'condition',
  ways: [
    {
      formula: 'omega * z_p / (2 * pi * f) - 1',
      inputs: { omega: 'speed', f: 'frequency' },
      constants: { z_p: 'generator.polePairs' },
      applies: isSynchronousMeasured,
      valid: [
        {
          test: 'f > 0.2 * f_r',
          constants: { f_r: 'generator.ratedFrequency' },
          otherwise: 'frequency is below 20 % of rated',
        },
        { test: 'f > 0', otherwise: 'no frequency' },
      ],
      source: 'f = n·p/60: two witnesses of one speed',
    },
  ],
}
