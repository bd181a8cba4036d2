import type { Quantity } from '../quantity.ts'

export const pumpHydraulicPower: Quantity = {
  id: 'pumpHydraulicPower',
  name: 'Pump hydraulic power',
  symbol: 'P_hp',
  unit: 'W',
  view: 'W',
  group: 'pump',
  ways: [
    {
      formula: 'rho * g * Q * H_p',
      inputs: { rho: 'waterDensity', g: 'gravity', Q: 'discharge', H_p: 'pumpHead' },
      source: 'ISO 9906, pump power output',
    },
  ],
}
