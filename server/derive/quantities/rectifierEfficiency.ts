import type { Quantity } from '../quantity.ts'

export const rectifierEfficiency: Quantity = {
  id: 'rectifierEfficiency',
  name: 'Rectifier efficiency',
  symbol: 'η_r',
  unit: '1',
  view: '%',
  group: 'efficiency',
  ways: [
    {
      formula: 'P_dc / P',
      inputs: { P_dc: 'rectifierPower', P: 'activePower' },
      // Of a direct-current generator both are the same reading.
      applies: (plant) => plant.generator?.kind !== 'directCurrent',
      valid: [
        {
          test: 'P > 0.05 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'active power is below 5 % of rated',
        },
        { test: 'P > 0', otherwise: 'nothing is generated' },
      ],
      possible: { low: 0, high: 1, suspects: 'rectifier voltage or current, or active power' },
      source: 'definition: output over input',
    },
  ],
}
