import type { Quantity } from '../quantity.ts'

export const waterDensity: Quantity = {
  id: 'waterDensity',
  name: 'Water density',
  symbol: 'ρ',
  unit: 'kg/m3',
  view: 'kg/m3',
  group: 'water',
  ways: [
    {
      formula: 'rho',
      inputs: {},
      constants: { rho: 'site.waterDensity' },
      source: 'given in the plant file',
    },
    {
      formula: 'waterDensityTanaka(t)',
      inputs: { t: 'waterTemperature' },
      source: 'Tanaka et al. 2001, Metrologia 38:301',
    },
    {
      formula: 'waterDensityTanaka(t)',
      inputs: {},
      constants: { t: 'site.waterTemperature' },
      source: 'Tanaka et al. 2001, Metrologia 38:301, at the temperature of the plant file',
    },
  ],
}
