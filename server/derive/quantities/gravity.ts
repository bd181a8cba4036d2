import type { Quantity } from '../quantity.ts'

export const gravity: Quantity = {
  id: 'gravity',
  name: 'Local gravity',
  symbol: 'g',
  unit: 'm/s2',
  view: 'm/s2',
  group: 'head',
  ways: [
    {
      formula: 'g',
      inputs: {},
      constants: { g: 'site.gravity' },
      source: 'given in the plant file',
    },
    {
      formula: 'gravityIec60041(phi, z)',
      inputs: {},
      constants: { phi: 'site.latitude', z: 'site.altitude' },
      source: 'IEC 60041:1991, gravity by latitude and altitude',
    },
    {
      formula: 'standardGravity()',
      inputs: {},
      source: 'standard gravity, CGPM 1901, since the plant file gives no latitude',
    },
  ],
}
