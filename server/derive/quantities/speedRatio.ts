import { hasJets, type Quantity } from '../quantity.ts'

export const speedRatio: Quantity = {
  id: 'speedRatio',
  name: 'Speed ratio u over jet velocity',
  symbol: 'k_u',
  unit: '1',
  view: '1',
  group: 'machine',
  ways: [
    {
      formula: 'bucketSpeed(omega, D) / c_1',
      inputs: { omega: 'turbineSpeed', c_1: 'jetVelocity', H_n: 'netHead' },
      constants: { D: 'turbine.pitchDiameter' },
      applies: hasJets,
      valid: [
        {
          test: 'H_n > 0.1 * H_r',
          constants: { H_r: 'turbine.ratedNetHead' },
          otherwise: 'net head is below 10 % of rated',
        },
        { test: 'c_1 > 0', otherwise: 'no jet' },
      ],
      source: 'k_u = u/c₁, referred to the jet velocity (not to √(2gH))',
    },
  ],
}
