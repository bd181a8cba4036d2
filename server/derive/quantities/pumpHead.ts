import { isMeasured, type Quantity } from '../quantity.ts'

export const pumpHead: Quantity = {
  id: 'pumpHead',
  name: 'Pump head',
  symbol: 'H_p',
  unit: 'm',
  view: 'm',
  group: 'pump',
  ways: [
    {
      formula: '(p_d - p_s) / (rho * g) + z + (meanVelocity(Q, D_d)^2 - meanVelocity(Q, D_s)^2) / (2 * g)',
      inputs: {
        p_d: 'pumpOutletPressure',
        p_s: 'pumpInletPressure',
        Q: 'discharge',
        rho: 'waterDensity',
        g: 'gravity',
      },
      constants: { z: 'pump.gaugeRise', D_d: 'pump.outletBore', D_s: 'pump.inletBore' },
      source: 'ISO 9906, pump total head',
    },
    {
      formula: 'p_d / (rho * g) + z - z_su + meanVelocity(Q, D_d)^2 / (2 * g)',
      inputs: {
        p_d: 'pumpOutletPressure',
        z_su: 'sumpLevel',
        Q: 'discharge',
        rho: 'waterDensity',
        g: 'gravity',
      },
      constants: { z: 'pump.gaugeRise', D_d: 'pump.outletBore' },
      applies: (plant) => !isMeasured(plant, 'pumpInletPressure'),
      estimated: 'from the water level in the sump: losses before the pump are left out',
      source: 'ISO 9906, pump total head, with the sump as inlet',
    },
    {
      formula: '(p_d - p_s) / (rho * g)',
      inputs: { p_d: 'pumpOutletPressure', p_s: 'pumpInletPressure', rho: 'waterDensity', g: 'gravity' },
      estimated: 'the difference of gauge elevation and velocity head across the pump is left out',
      source: 'ISO 9906, pump total head',
    },
  ],
}
