import type { Quantity } from '../quantity.ts'

export const waterToWireEfficiency: Quantity = {
  id: 'waterToWireEfficiency',
  name: 'Water-to-wire efficiency',
  symbol: 'η_w',
  unit: '1',
  view: '%',
  group: 'efficiency',
  steady: ['rotor', 'water'],
  ways: [
    {
      formula: 'P / P_h',
      inputs: { P: 'activePower', P_h: 'hydraulicPower', rho: 'waterDensity', g: 'gravity' },
      valid: [
        {
          test: 'P_h > 0.05 * Q_r * H_r * rho * g',
          constants: { Q_r: 'turbine.ratedDischarge', H_r: 'turbine.ratedNetHead' },
          otherwise: 'hydraulic power is below 5 % of rated',
        },
        { test: 'P_h > 0', otherwise: 'no hydraulic power' },
      ],
      possible: { low: 0, high: 1, suspects: 'discharge, head or power' },
      source: 'definition: generator terminals over hydraulic power at net head',
    },
  ],
}
