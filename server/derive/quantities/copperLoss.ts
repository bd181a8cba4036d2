import type { Quantity } from '../quantity.ts'

export const copperLoss: Quantity = {
  id: 'copperLoss',
  name: 'Copper loss of the generator',
  symbol: 'P_cu',
  unit: 'W',
  view: 'W',
  group: 'electrical',
  ways: [
    {
      formula: 'm * mean(I)^2 * R',
      inputs: { I: 'phaseCurrent.*' },
      constants: { m: 'generator.phases', R: 'generator.windingResistance' },
      source: "Joule's law, m phases of I²·R at the warm resistance",
    },
  ],
}
