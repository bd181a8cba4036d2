import { hasJets, type Quantity } from '../quantity.ts'
import { spearWays } from '../spears.ts'

export const nozzleFlow: Quantity = {
  id: 'nozzleFlow',
  name: 'Discharge of clean nozzles at this head',
  symbol: 'Q_n',
  unit: 'm3/s',
  view: 'L/s',
  group: 'machine',
  ways: [
    {
      formula: 'N * C_d * boreArea(d) * sqrt(2 * g * H_n)',
      inputs: { N: 'openJets', H_n: 'netHead', g: 'gravity' },
      constants: { C_d: 'turbine.nozzleCoefficient', d: 'turbine.nozzleBore' },
      applies: (plant) => hasJets(plant) && plant.turbine?.nozzleCurve === undefined,
      valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
      source: 'nozzle law Q = Cd·A·√(2gH) for each open jet',
    },
    ...spearWays({
      formula: (opening) => `(${opening}) * boreArea(d) * sqrt(2 * g * H_n)`,
      inputs: { H_n: 'netHead', g: 'gravity' },
      valid: [{ test: 'H_n > 0', otherwise: 'no net head' }],
      source: 'nozzle law Q = Cd(s)·A·√(2gH) for each spear, Cd(s) by the table of the plant file',
    }),
  ],
}
