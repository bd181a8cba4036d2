import type { Quantity } from '../quantity.ts'

export const hydraulicPower: Quantity = {
  id: 'hydraulicPower',
  name: 'Hydraulic power',
  symbol: 'P_h',
  unit: 'W',
  view: 'W',
  group: 'water',
  ways: [
    {
      formula: 'rho * g * Q * H_n',
      inputs: { rho: 'waterDensity', g: 'gravity', Q: 'discharge', H_n: 'netHead' },
      source: 'IEC 60041, hydraulic power from specific hydraulic energy E = gH',
    },
  ],
}
