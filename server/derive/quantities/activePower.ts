import type { Quantity } from '../quantity.ts'

export const activePower: Quantity = {
  id: 'activePower',
  name: 'Active power',
  symbol: 'P',
  unit: 'W',
  view: 'W',
  group: 'electrical',
  ways: [
    {
      formula: 'S * lambda',
      inputs: { S: 'apparentPower', lambda: 'powerFactor' },
      source: 'P = S·cos φ',
    },
    {
      formula: 'U * I',
      inputs: { U: 'dcVoltage', I: 'dcCurrent' },
      applies: (plant) => plant.generator?.kind === 'directCurrent',
      source: 'P = U·I of a direct-current generator',
    },
  ],
}
