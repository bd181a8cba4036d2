import { isMagnet } from '../../derive/quantity.ts'
import { constantAgrees, lineThroughZero } from '../checks/curveChecks.ts'
import { voltageTheory } from '../theory/theories.ts'
import type { PointTrial } from '../trial.ts'

export const voltageWithoutLoad: PointTrial = {
  id: 'voltageWithoutLoad',
  takes: 'points',
  name: 'Generator: voltage without load',
  aim: 'That the voltage without load grows with speed, and the voltage constant of the machine.',
  abscissa: 'speed',
  ordinate: 'meanPhaseVoltage',
  hold: [
    {
      figure: 'meanPhaseCurrent',
      target: ['generator.ratedCurrent'],
      share: 0,
      tolerance: 0.01,
      low: 'check the sign of the current measurement',
      high: 'take the load off the generator',
    },
  ],
  by: () => 'the head, at one jet, with the load off',
  suggest: { reference: 'generator.ratedSpeed', shares: () => [0.5, 0.6, 0.7, 0.8, 0.9, 1] },
  record: ['frequency', 'netHead', 'torque', 'shaftPower'],
  steady: { speed: 0.005, meanPhaseVoltage: 0.01 },
  fits: [{ model: 'voltageConstant' }],
  theory: voltageTheory,
  refuse: (plant) =>
    isMagnet(plant) ? undefined : 'it is for generators with permanent magnets, whose field is constant',
  cautions: [
    {
      signal: 'DANGER',
      text: 'With the load off the machine runs up to its runaway speed for the water that it gets. Instructor only, little water, guards closed, tested over-speed protection armed.',
    },
  ],
  method: [
    'Close all jets but one and set the lowest head; then take the load off.',
    'Raise the head in small steps; never let the speed pass its rated value.',
    'Lower the head to nothing before the load is put back.',
  ],
  checks: [
    { id: 'straight', text: 'A straight line through zero.', rule: lineThroughZero },
    {
      id: 'plantFile',
      text: 'The constant agrees with that of the plant file.',
      rule: constantAgrees({ symbol: 'k_e', reference: 'generator.voltageConstant' }),
    },
  ],
}
