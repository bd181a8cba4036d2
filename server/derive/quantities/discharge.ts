import { hasJets, type Quantity } from '../quantity.ts'
import { spearWays } from '../spears.ts'

export const discharge: Quantity = {
  id: 'discharge',
  name: 'Discharge',
  symbol: 'Q',
  unit: 'm3/s',
  view: 'L/s',
  group: 'water',
  ways: [
    {
      formula: 'Q_m',
      inputs: { Q_m: 'meterFlow' },
      source: 'the flow meter of the turbine pipe',
    },

    {
      formula: 'N * C_d * boreArea(d) * sqrt(2 * p / rho)',
      inputs: { N: 'openJets', p: 'inletPressure', rho: 'waterDensity' },
      constants: { C_d: 'turbine.nozzleCoefficient', d: 'turbine.nozzleBore' },
      applies: (plant) => hasJets(plant) && plant.turbine?.nozzleCurve === undefined,
      estimated: 'from the nozzle law; no flow is measured',
      source: 'nozzle law Q = Cd·A·√(2p/ρ)',
    },
    ...spearWays({
      formula: (opening) => `(${opening}) * boreArea(d) * sqrt(2 * p / rho)`,
      inputs: { p: 'inletPressure', rho: 'waterDensity' },
      estimated: 'from the nozzle law; no flow is measured',
      source: 'nozzle law Q = Cd(s)·A·√(2p/ρ) for each spear, Cd(s) by the table of the plant file',
    }),
  ],
}
