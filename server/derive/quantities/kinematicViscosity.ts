import type { Quantity } from '../quantity.ts'

export const kinematicViscosity: Quantity = {
  id: 'kinematicViscosity',
  name: 'Kinematic viscosity of water',
  symbol: 'ν',
  unit: 'm2/s',
  view: 'mm2/s',
  group: 'water',
  ways: [
    {
      formula: 'waterKinematicViscosity(t)',
      inputs: { t: 'waterTemperature' },
      source: 'IAPWS R12-08 and Tanaka 2001',
    },
    {
      formula: 'waterKinematicViscosity(t)',
      inputs: {},
      constants: { t: 'site.waterTemperature' },
      source: 'IAPWS R12-08 and Tanaka 2001, at the temperature of the plant file',
    },
  ],
}
