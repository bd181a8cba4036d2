import { hasJets, type Quantity } from '../quantity.ts'

export const jetVelocity: Quantity = {
  id: 'jetVelocity',
  name: 'Jet velocity',
  symbol: 'c_1',
  unit: 'm/s',
  view: 'm/s',
  group: 'machine',
  ways: [
    {
      formula: 'jetVelocity(C_v, H_n, g)',
      inputs: { H_n: 'netHead', g: 'gravity' },
      constants: { C_v: 'turbine.velocityCoefficient' },
      applies: hasJets,
      source: 'c = Cv·√(2gH)',
    },
  ],
}
