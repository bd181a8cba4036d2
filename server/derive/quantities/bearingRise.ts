import type { Quantity } from '../quantity.ts'

export const bearingRise: Quantity = {
  id: 'bearingRise',
  name: 'Hottest bearing over ambient',
  symbol: 'Δt_b',
  unit: 'K',
  view: 'K',
  group: 'condition',
  ways: [
    {
      formula: 'max(t_b) - t_a',
      inputs: { t_b: 'bearingTemperature.*', t_a: 'ambientTemperature' },
      source: 'definition; at a long standstill it is zero, else a sensor is off',
    },
  ],
}
