import type { Quantity } from '../quantity.ts'

export const nozzleFlow: Quantity = {
  id: 'nozzleFlow',
  name: 'Discharge of clean nozzles at this head',
  symbol: 'Q_n',
  unit: 'm3/s',
  view: 'L/s',
  group: 'machine',
  ways: [
    {
      formula: 'C * idealJetFlow(d, H_n, g)',
      inputs: { C: 'nozzleCoefficient', H_n: 'netHead', g: 'gravity' },
      constants: { d: 'turbine.nozzleBore' },
      valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
      source: 'nozzle law Q = Cd·A·√(2gH) for each open jet',
    },
  ],
}
