import { isMeasured, type Quantity } from '../quantity.ts'

export const powerDisagreement: Quantity = {
  id: 'powerDisagreement',
  name: 'Active power against voltage and current',
  symbol: 'ΔP',
  unit: '1',
  view: '%',
  group: 'condition',
  ways: [
    {
      formula: 'P / ((U_1 * I_1 + U_2 * I_2 + U_3 * I_3) * lambda) - 1',
      inputs: {
        P: 'activePower',
        lambda: 'powerFactor',
        U_1: 'phaseVoltage.1',
        U_2: 'phaseVoltage.2',
        U_3: 'phaseVoltage.3',
        I_1: 'phaseCurrent.1',
        I_2: 'phaseCurrent.2',
        I_3: 'phaseCurrent.3',
      },
      // What is computed from a figure cannot check it.
      applies: (plant) => isMeasured(plant, 'activePower', 'powerFactor'),
      valid: [
        {
          test: 'P > 0.05 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'active power is below 5 % of rated',
        },
        { test: 'P > 0', otherwise: 'nothing is generated' },
      ],
      source: 'P = Σ U·I·cos φ: a wrong ratio of a current transformer shows here',
    },
  ],
}
