import { constantBelow } from '../checks/curveChecks.ts'
import { belowOne } from '../checks/pointChecks.ts'
import { inverterTheory } from '../theory/theories.ts'
import type { PointTrial } from '../trial.ts'

export const inverterEfficiency: PointTrial = {
  id: 'inverterEfficiency',
  takes: 'points',
  name: 'Inverter: efficiency over load',
  aim: 'What the inverter loses without load and under load, and at which load it works best.',
  abscissa: 'inverterOutputPower',
  ordinate: 'inverterEfficiency',
  hold: [],
  by: () => 'switching loads on and off',
  suggest: { reference: 'inverter.ratedPower', shares: () => [0.1, 0.2, 0.3, 0.5, 0.7, 0.9] },
  record: ['inverterInputPower', 'inverterInputVoltage', 'inverterInputCurrent', 'batteryVoltage'],
  steady: { inverterOutputPower: 0.015, inverterEfficiency: 0.015 },
  fits: [{ model: 'smooth', best: true }],
  further: [{ name: 'Losses', model: 'inverterLosses' }],
  theory: inverterTheory,
  cautions: [
    {
      signal: 'DANGER',
      text: 'A battery gives very high short-circuit current. Change no wiring; use the switches.',
    },
  ],
  method: [
    'Begin with the smallest load, then add one after the other up to the rated power.',
    'Wait at each step for the point to store itself; take a motor last.',
    'Repeat the smallest load at the end.',
  ],
  checks: [
    {
      id: 'shape',
      text: 'It rises fast up to a fifth of the rated load, is flat, and droops towards full load.',
    },
    {
      id: 'lossWithoutLoad',
      text: 'Losses without load are at most 5 % of the rated power.',
      rule: constantBelow({ symbol: 'P_0', reference: 'inverter.ratedPower', share: 0.05 }),
    },
    { id: 'belowOne', text: 'No efficiency is above 1.', rule: belowOne },
  ],
}
