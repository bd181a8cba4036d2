import type { Quantity } from '../quantity.ts'

export const staticHeadExcess: Quantity = {
  id: 'staticHeadExcess',
  name: 'Static pressure against the level',
  symbol: 'Δh_0',
  unit: 'm',
  view: 'm',
  group: 'condition',
  ways: [
    {
      formula: 'p / (rho * g) + z_p - (z_hw + z_0)',
      inputs: {
        p: 'inletPressure',
        z_hw: 'headwaterLevel',
        Q: 'discharge',
        rho: 'waterDensity',
        g: 'gravity',
      },
      constants: { z_p: 'site.elevations.inletGauge', z_0: 'site.elevations.headwaterZero' },
      valid: [
        {
          test: 'abs(Q) < 0.01 * Q_r',
          constants: { Q_r: 'turbine.ratedDischarge' },
          otherwise: 'water is flowing',
        },
        { test: 'abs(Q) >= 0', otherwise: 'no discharge is known' },
      ],
      source: 'hydrostatics: without flow the gauge shows the level above it, else one of the two is off',
    },
  ],
}
