import type { Quantity } from '../quantity.ts'

export const idealSpecificEnergy: Quantity = {
  id: 'idealSpecificEnergy',
  name: 'Ideal energy per volume of water',
  symbol: 'e_0',
  unit: 'J/m3',
  view: 'kW.h/m3',
  group: 'efficiency',
  ways: [
    {
      formula: 'rho * g * H_g',
      inputs: { rho: 'waterDensity', g: 'gravity', H_g: 'grossHead' },
      source: 'ρ·g·H: 1 kWh/m³ per 367 m',
    },
    {
      formula: 'rho * g * H_n',
      inputs: { rho: 'waterDensity', g: 'gravity', H_n: 'netHead' },
      source: 'ρ·g·H at net head, as the plant has no gross head: 1 kWh/m³ per 367 m',
    },
  ],
}
