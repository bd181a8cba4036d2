import type { Quantity } from '../quantity.ts'

export const turbineSpeed: Quantity = {
  id: 'turbineSpeed',
  name: 'Turbine speed',
  symbol: 'n_t',
  unit: 'rad/s',
  view: '/min',
  group: 'machine',
  ways: [
    {
      formula: 'omega / r',
      inputs: { omega: 'speed' },
      constants: { r: 'turbine.driveRatio' },
      source: 'speed of the generator over the ratio of the drive',
    },
  ],
}
