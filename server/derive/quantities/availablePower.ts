import type { Quantity } from '../quantity.ts'

export const availablePower: Quantity = {
  id: 'availablePower',
  name: 'Power of the water at gross head',
  symbol: 'P_g',
  unit: 'W',
  view: 'W',
  group: 'water',
  ways: [
    {
      formula: 'rho * g * Q * H_g',
      inputs: { rho: 'waterDensity', g: 'gravity', Q: 'discharge', H_g: 'grossHead' },
      source: 'definition: as hydraulic power, at gross head',
    },
  ],
}
