import { hasJets, type Quantity } from '../quantity.ts'

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
      applies: hasJets,
      estimated: 'from the nozzle law; no flow is measured',
      source: 'nozzle law Q = Cd·A·√(2p/ρ)',
    },
  ],
}
