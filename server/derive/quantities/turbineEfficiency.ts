import type { Quantity } from '../quantity.ts'

export const turbineEfficiency: Quantity = {
  id: 'turbineEfficiency',
  name: 'Turbine efficiency',
  symbol: 'η_t',
  unit: '1',
  view: '%',
  group: 'efficiency',
  steady: ['rotor', 'water'],
  ways: [
    {
      formula: 'P_s / (P_h * eta_d)',
      inputs: { P_s: 'shaftPower', P_h: 'hydraulicPower', rho: 'waterDensity', g: 'gravity' },
      constants: { eta_d: 'turbine.driveEfficiency' },
      valid: [
        {
          test: 'P_h > 0.05 * Q_r * H_r * rho * g',
          constants: { Q_r: 'turbine.ratedDischarge', H_r: 'turbine.ratedNetHead' },
          otherwise: 'hydraulic power is below 5 % of rated',
        },
        { test: 'P_h > 0', otherwise: 'no hydraulic power' },
      ],
      possible: { low: 0, high: 1, suspects: 'discharge, head, torque or power' },
      source: 'IEC 60041: shaft power over hydraulic power; eta_d is the drive between turbine and shaft',
    },
  ],
}
