import { NOT_MEASURED, type Quantity } from '../quantity.ts'

export const chargerEfficiency: Quantity = {
  id: 'chargerEfficiency',
  name: 'Rectifier and charger efficiency',
  symbol: 'η_c',
  unit: '1',
  view: '%',
  group: 'efficiency',
  ways: [
    {
      formula: '(P_b + P_d + P_i + P_l) / P',
      inputs: {
        P_b: 'batteryPower',
        P_d: 'dumpPower',
        P_i: 'inverterInputPower',
        P_l: 'dcLoadPower',
        P: 'activePower',
      },
      defaults: { P_l: NOT_MEASURED },
      applies: (plant) => plant.use === 'rig',
      valid: [
        {
          test: 'P > 0.05 * P_r',
          constants: { P_r: 'generator.ratedPower' },
          otherwise: 'active power is below 5 % of rated',
        },
        { test: 'P > 0', otherwise: 'nothing is generated' },
      ],
      possible: { low: 0, high: 1, suspects: 'battery, dump or inverter shunt, or active power' },
      source: 'what leaves the bus over what the generator gives; battery power + when charging',
    },
  ],
}
