import type { Quantity } from '../quantity.ts'

export const mechanicalTimeConstant: Quantity = {
  id: 'mechanicalTimeConstant',
  name: 'Mechanical time constant',
  symbol: 'T_m',
  unit: 's',
  view: 's',
  group: 'machine',
  ways: [
    {
      formula: 'J * omega_r^2 / P_r',
      inputs: {},
      constants: { J: 'generator.inertia', omega_r: 'generator.ratedSpeed', P_r: 'turbine.ratedShaftPower' },
      source: 'T_m = J·ω²/P: after a load rejection speed rises by about n/T_m per second',
    },
    {
      formula: 'J * omega_r^2 / P_r',
      inputs: {},
      constants: { J: 'generator.inertia', omega_r: 'generator.ratedSpeed', P_r: 'generator.ratedPower' },
      source: 'T_m = J·ω²/P with the electrical power, as the plant file gives no shaft power',
    },
  ],
}
