import type { Quantity } from '../quantity.ts'

export const shaftPower: Quantity = {
  id: 'shaftPower',
  name: 'Shaft power',
  symbol: 'P_s',
  unit: 'W',
  view: 'W',
  group: 'machine',
  ways: [
    {
      formula: 'T * omega',
      inputs: { T: 'torque', omega: 'speed' },
      source: 'mechanics: power of a rotating shaft',
    },
    {
      formula: 'P / etaGenerator(P / P_r)',
      inputs: { P: 'activePower' },
      constants: { P_r: 'generator.ratedPower' },
      curves: { etaGenerator: 'generator.efficiencyCurve' },
      estimated: 'active power over the generator efficiency curve of the plant file; no torque is measured',
      source: 'definition of generator efficiency',
    },
  ],
}
