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
  ],
}
