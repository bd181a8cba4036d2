import { isInduction, type Quantity } from '../quantity.ts'

export const slip: Quantity = {
  id: 'slip',
  name: 'Slip',
  symbol: 's',
  unit: '1',
  view: '%',
  group: 'electrical',
  ways: [
    {
      formula: '(2 * pi * f / z_p - omega) / (2 * pi * f / z_p)',
      inputs: { f: 'frequency', omega: 'speed' },
      constants: { z_p: 'generator.polePairs' },
      applies: isInduction,
      valid: [
        {
          test: 'f > 0.2 * f_r',
          constants: { f_r: 'generator.ratedFrequency' },
          otherwise: 'frequency is below 20 % of rated',
        },
        { test: 'f > 0', otherwise: 'no frequency' },
        {
          test: 'omega > 0.2 * omega_r',
          constants: { omega_r: 'generator.ratedSpeed' },
          otherwise: 'speed is below 20 % of rated',
        },
      ],
      source: 's = (n_s − n)/n_s, negative when generating',
    },
  ],
}
