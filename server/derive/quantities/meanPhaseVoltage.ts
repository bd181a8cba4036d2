import type { Quantity } from '../quantity.ts'

export const meanPhaseVoltage: Quantity = {
  id: 'meanPhaseVoltage',
  name: 'Mean phase voltage',
  symbol: 'U_m',
  unit: 'V',
  view: 'V',
  group: 'electrical',
  ways: [
    {
      formula: 'mean(U)',
      inputs: { U: 'phaseVoltage.*' },
      source: 'mean of the measured phases; a trial of the machine is drawn over it',
    },
  ],
}
