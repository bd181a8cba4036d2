import { isMeasured, type Quantity } from '../quantity.ts'

export const apparentPower: Quantity = {
  id: 'apparentPower',
  name: 'Apparent power',
  symbol: 'S',
  unit: 'V.A',
  view: 'V.A',
  group: 'electrical',
  ways: [
    {
      formula: 'sum(U * I)',
      inputs: { U: 'phaseVoltage.1..3', I: 'phaseCurrent.1..3' },
      source: 'sum of the phases, U·I',
    },
    {
      formula: 'U * I',
      inputs: { U: 'phaseVoltage.1', I: 'phaseCurrent.1' },
      applies: (plant) => plant.generator?.phases === 1,
      source: 'S = U·I',
    },
    {
      formula: 'sqrt(3) * mean(U) * mean(I)',
      inputs: { U: 'lineVoltage.*', I: 'phaseCurrent.*' },
      applies: (plant) => plant.generator?.phases === 3,
      source: 'S = √3·U·I with the voltage between phases, means of what is measured; balanced load',
    },
    {
      formula: 'sqrt(P^2 + Q^2)',
      inputs: { P: 'activePower', Q: 'reactivePower' },
      applies: (plant) => isMeasured(plant, 'activePower', 'reactivePower'),
      source: 'S = √(P² + Q²)',
    },
  ],
}
