import type { Quantity } from '../quantity.ts'

export const plantEfficiency: Quantity = {
  id: 'plantEfficiency',
  name: 'Efficiency of the whole plant, at gross head',
  symbol: 'η_p',
  unit: '1',
  view: '%',
  group: 'efficiency',
  steady: ['rotor', 'water'],
  ways: [
    {
      formula: 'P / P_g',
      inputs: { P: 'activePower', P_g: 'availablePower', rho: 'waterDensity', g: 'gravity' },
      valid: [
        {
          test: 'P_g > 0.05 * Q_r * H_r * rho * g',
          constants: { Q_r: 'turbine.ratedDischarge', H_r: 'turbine.ratedNetHead' },
          otherwise: 'the power of the water is below 5 % of rated',
        },
        { test: 'P_g > 0', otherwise: 'no power in the water' },
      ],
      possible: { low: 0, high: 1, suspects: 'discharge, levels or power' },
      source: 'definition: generator terminals over ρgQH at gross head, so with the losses of the penstock',
    },
  ],
}
