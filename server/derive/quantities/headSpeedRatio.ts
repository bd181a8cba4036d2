import type { Quantity } from '../quantity.ts'

export const headSpeedRatio: Quantity = {
  id: 'headSpeedRatio',
  name: 'Speed ratio u over √(2gH)',
  symbol: 'φ',
  unit: '1',
  view: '1',
  group: 'machine',
  ways: [
    {
      formula: 'bucketSpeed(omega, D) / sqrt(2 * g * H_n)',
      inputs: { omega: 'turbineSpeed', H_n: 'netHead', g: 'gravity' },
      constants: { D: 'turbine.pitchDiameter' },
      valid: [
        {
          test: 'H_n > 0.1 * H_r',
          constants: { H_r: 'turbine.ratedNetHead' },
          otherwise: 'net head is below 10 % of rated',
        },
        { test: 'H_n > 0', otherwise: 'no net head' },
      ],
      source: 'φ = u/√(2gH), referred to the head (not to the jet velocity): k_u = φ/Cv',
    },
  ],
}
