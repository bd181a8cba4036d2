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
      formula: 'U_1 * I_1 + U_2 * I_2 + U_3 * I_3',
      inputs: {
        U_1: 'phaseVoltage.1',
        U_2: 'phaseVoltage.2',
        U_3: 'phaseVoltage.3',
        I_1: 'phaseCurrent.1',
        I_2: 'phaseCurrent.2',
        I_3: 'phaseCurrent.3',
      },
      source: 'sum of the phases, U·I',
    },

    {
      formula: 'U_1 * I_1',
      inputs: { U_1: 'phaseVoltage.1', I_1: 'phaseCurrent.1' },
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
