import { isImpulse } from '../../derive/quantity.ts'
import { belowOne, bestHas, falls } from '../checks/pointChecks.ts'
import type { PointTrial } from '../trial.ts'
import { efficiencyDischarge } from './efficiencyDischarge.ts'

export const efficiencySpeed: PointTrial = {
  id: 'efficiencySpeed',
  takes: 'points',
  name: 'Turbine: efficiency over speed',
  aim: 'At which speed the runner takes most from the water at one head and opening, and how torque falls as it turns faster.',
  abscissa: 'speed',
  ordinate: 'turbineEfficiency',
  hold: efficiencyDischarge.hold.filter(({ figure }) => figure === 'netHead'),
  by: () => 'the load on the shaft, or the speed that its controller holds',
  suggest: { reference: 'turbine.ratedSpeed', shares: () => [0.6, 0.7, 0.8, 0.9, 1, 1.1] },
  unit: { abscissa: 'unitSpeed', ordinate: 'turbineEfficiency' },
  record: ['torque', 'shaftPower', 'discharge', 'speedRatio', 'hydraulicPower'],
  steady: { netHead: 0.01, discharge: 0.015, speed: 0.005, turbineEfficiency: 0.015 },
  fits: [
    { model: 'runnerEfficiency', applies: isImpulse, best: true },
    { model: 'smooth', best: true },
  ],
  refuse: ({ use }) => (use === 'gridTied' ? 'the grid holds the speed' : undefined),
  cautions: [
    {
      signal: 'DANGER',
      text: 'Without load the runner goes to about 1.8 times its best speed. Stay within the range that its maker allows, with tested over-speed protection armed and guards closed.',
    },
  ],
  method: [
    'Set head and opening; leave both as they are for the whole run.',
    'Load the shaft until it turns slowly, then take load off step by step; stop below the over-speed limit.',
    'Wait at each step for the point to store itself; repeat two of them on the way back.',
  ],
  checks: [
    { id: 'torqueFalls', text: 'Torque falls steadily with speed.', rule: falls('torque') },
    {
      id: 'speedRatio',
      text: 'The best speed of an impulse wheel gives a speed ratio of 0.42 to 0.48.',
      rule: bestHas({ figure: 'speedRatio', low: 0.42, high: 0.48 }),
    },
    { id: 'belowOne', text: 'No efficiency is above 1.', rule: belowOne },
    { id: 'otherHead', text: 'At another head the same curve comes out over unit speed.' },
  ],
}
