import { isImpulse } from '../../derive/quantity.ts'
import { runawayRatio } from '../checks/curveChecks.ts'
import { falls } from '../checks/pointChecks.ts'
import type { PointTrial } from '../trial.ts'
import { efficiencySpeed } from './efficiencySpeed.ts'

/** Done like efficiency over speed, drawn as torque. */
export const torqueSpeed: PointTrial = {
  id: 'torqueSpeed',
  takes: 'points',
  name: 'Turbine: torque over speed',
  aim: 'How the torque falls as the wheel turns faster, and what that says of standstill and runaway without going there.',
  abscissa: 'speed',
  ordinate: 'torque',
  hold: efficiencySpeed.hold,
  by: efficiencySpeed.by,
  suggest: { reference: 'turbine.ratedSpeed', shares: () => [0.55, 0.65, 0.75, 0.85, 0.95, 1.05, 1.1] },
  record: ['shaftPower', 'turbineEfficiency', 'discharge', 'speedRatio', 'hydraulicPower'],
  steady: { netHead: 0.01, discharge: 0.015, speed: 0.005, torque: 0.015 },
  fits: [{ model: 'runawayLaw', applies: isImpulse }, { model: 'smooth' }],
  refuse: ({ use }) => (use === 'gridTied' ? 'the grid holds the speed' : undefined),
  cautions: efficiencySpeed.cautions,
  method: efficiencySpeed.method,
  checks: [
    { id: 'falls', text: 'Torque falls steadily with speed.', rule: falls() },
    {
      id: 'runaway',
      text: 'The runaway speed comes out at about 1.8 times the best speed.',
      rule: runawayRatio({ low: 1.7, high: 2 }),
    },
    {
      id: 'topOfPower',
      text: 'Power, torque times speed, has its top near half of the runaway speed.',
    },
  ],
}
