import type { Quantity } from '../quantity.ts'

export const pumpHead: Quantity = {
  id: 'pumpHead',
  name: 'Pump head',
  symbol: 'H_p',
  unit: 'm',
  view: 'm',
  group: 'pump',
  ways: [
    {
      formula: '(p_d - p_s) / (rho * g)',
      inputs: { p_d: 'pumpOutletPressure', p_s: 'pumpInletPressure', rho: 'waterDensity', g: 'gravity' },
      estimated: 'the difference of gauge elevation and velocity head across the pump is left out',
      source: 'ISO 9906, pump total head',
    },
    {
      formula: 'p_d / (rho * g) + z_d - z_s + meanVelocity(Q, D)^2 / (2 * g)',
      inputs: { p_d: 'pumpOutletPressure', Q: 'discharge', rho: 'waterDensity', g: 'gravity' },
      constants: { z_d: 'site.elevations.pumpGauge', z_s: 'site.elevations.sump', D: 'penstock.bore' },
      source:
        'ISO 9906, pump total head above the water in the sump; the loss of the strainer counts to the pump',
    },
  ],
}
