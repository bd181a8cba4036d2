import type { Quantity } from '../quantity.ts'

export const meanPhaseCurrent: Quantity = {
  id: 'meanPhaseCurrent',
  name: 'Mean phase current',
  symbol: 'I_m',
  unit: 'A',
  view: 'A',
  group: 'electrical',
  ways: [
    {
      formula: 'mean(I)',
      inputs: { I: 'phaseCurrent.*' },
      source: 'mean of the measured phases; a trial of the machine is drawn over it',
    },
  ],
}
