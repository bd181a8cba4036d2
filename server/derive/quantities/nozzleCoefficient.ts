import { hasJets, type Quantity, spearsOf } from '../quantity.ts'

export const nozzleCoefficient: Quantity = {
  id: 'nozzleCoefficient',
  name: 'Discharge coefficient of the open nozzles together',
  symbol: 'C_N',
  unit: '1',
  view: '1',
  group: 'machine',
  ways: [
    {
      formula: 'N * C_d',
      inputs: { N: 'openJets' },
      constants: { C_d: 'turbine.nozzleCoefficient' },
      applies: (plant) => hasJets(plant) && plant.turbine?.nozzleCurve === undefined,
      source: 'open jets times the coefficient of one nozzle, referred to its bore',
    },
    {
      formula: 'sum(nozzle(s))',
      inputs: { s: 'needleStroke.*' },
      curves: { nozzle: 'turbine.nozzleCurve' },
      // Of a jet whose spear nobody measures nothing is known.
      applies: (plant) => hasJets(plant) && spearsOf(plant) === plant.turbine?.jets,
      source: 'coefficients of the spears, each by its opening from the table of the plant file',
    },
  ],
}
