import type { Quantity } from '../quantity.ts'

export const pipeLoss: Quantity = {
  id: 'pipeLoss',
  name: 'Head lost from pump to manifold',
  symbol: 'h_p',
  unit: 'm',
  view: 'm',
  group: 'head',
  steady: ['water'],
  ways: [
    {
      formula: '(p_d - p) / (rho * g) + z_d - z_p',
      inputs: { p_d: 'pumpOutletPressure', p: 'inletPressure', rho: 'waterDensity', g: 'gravity' },
      constants: { z_d: 'site.elevations.pumpGauge', z_p: 'site.elevations.inletGauge' },
      source: 'energy equation between two gauges in pipes of equal bore',
    },
  ],
}
