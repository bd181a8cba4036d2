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
      formula: '(U_1 * I_1 + U_2 * I_2 + U_3 * I_3) * lambda',
      inputs: {
        U_1: 'phaseVoltage.1',
        U_2: 'phaseVoltage.2',
        U_3: 'phaseVoltage.3',
        I_1: 'phaseCurrent.1',
        I_2: 'phaseCurrent.2',
        I_3: 'phaseCurrent.3',
        lambda: 'powerFactor',
      },
      source: 'sum of the phase powers',
    },
    {
      formula: 'U_1 * I_1 * lambda',
      inputs: { U_1: 'phaseVoltage.1', I_1: 'phaseCurrent.1', lambda: 'powerFactor' },
      applies: (plant) => plant.generator?.phases === 1,
      source: 'P = U·I·cos φ',
    },
    {
      formula: 'sqrt(3) * mean(U) * mean(I) * lambda',
      inputs: { U: 'lineVoltage.*', I: 'phaseCurrent.*', lambda: 'powerFactor' },
      applies: (plant) => plant.generator?.phases === 3,
      source: 'P = √3·U·I·cos φ with the voltage between phases, means of what is measured; balanced load',
    },
    {
      formula: 'U * I',
      inputs: { U: 'dcVoltage', I: 'dcCurrent' },
      applies: (plant) => plant.generator?.kind === 'directCurrent',
      source: 'P = U·I of a direct-current generator',
    },
  ],
}
