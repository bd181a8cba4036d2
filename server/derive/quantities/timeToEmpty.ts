import type { Quantity } from '../quantity.ts'

export const timeToEmpty: Quantity = {
  id: 'timeToEmpty',
  name: 'Time until the battery is empty',
  symbol: 't_empty',
  unit: 's',
  view: 'h',
  group: 'storage',
  ways: [
    {
      formula: '-C * U * SoC / P',
      inputs: { SoC: 'stateOfCharge', P: 'batteryPowerMean' },
      constants: { C: 'battery.ratedCharge', U: 'battery.ratedVoltage' },
      valid: [
        {
          test: 'P < -0.01 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'the battery is discharged with less than 1 % of rated power',
        },
        { test: 'P < 0', otherwise: 'the battery is not being discharged' },
      ],
      estimated: 'at the mean power of the last 5 min and the rated energy of the battery',
      source: 'E·SoC/P',
    },
  ],
}
