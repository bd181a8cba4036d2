import type { Quantity } from '../quantity.ts'

export const timeToFull: Quantity = {
  id: 'timeToFull',
  name: 'Time until the battery is full',
  symbol: 't_full',
  unit: 's',
  view: 'h',
  group: 'storage',
  ways: [
    {
      formula: 'C * U * (1 - SoC) / (eta_c * P)',
      inputs: { SoC: 'stateOfCharge', P: 'batteryPowerMean' },
      constants: {
        C: 'battery.ratedCharge',
        U: 'battery.ratedVoltage',
        eta_c: 'battery.chargeEfficiency',
      },
      valid: [
        {
          test: 'P > 0.01 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'the battery is charged with less than 1 % of rated power',
        },
        { test: 'P > 0', otherwise: 'the battery is not being charged' },
      ],
      estimated: 'at the mean power of the last 5 min and the rated energy of the battery',
      source: 'E·(1 − SoC)/(η·P)',
    },
  ],
}
