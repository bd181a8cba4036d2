import type { Quantity } from '../quantity.ts'

export const pumpEfficiency: Quantity = {
  id: 'pumpEfficiency',
  name: 'Pump and drive efficiency',
  symbol: 'η_m',
  unit: '1',
  view: '%',
  group: 'pump',
  steady: ['water'],
  ways: [
    {
      formula: 'P_hp / P_m',
      inputs: { P_hp: 'pumpHydraulicPower', P_m: 'pumpInputPower', rho: 'waterDensity', g: 'gravity' },
      valid: [
        {
          test: 'P_hp > 0.05 * rho * g * Q_r * H_r',
          constants: { Q_r: 'pump.ratedDischarge', H_r: 'pump.ratedHead' },
          otherwise: 'the pump delivers less than 5 % of rated',
        },
        { test: 'P_m > 0', otherwise: 'the pump does not run' },
      ],
      possible: { low: 0, high: 1, suspects: 'pump pressures, discharge or pump input' },
      source: 'definition: pump hydraulic power over mains input',
    },
  ],
}
