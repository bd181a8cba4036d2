import { furtherHas } from '../checks/curveChecks.ts'
import { repeatsAgree, rises } from '../checks/pointChecks.ts'
import type { PointTrial } from '../trial.ts'

export const pipeLoss: PointTrial = {
  id: 'pipeLoss',
  takes: 'points',
  name: 'Pipe: head lost over discharge',
  aim: 'What the pipe from pump to manifold costs in head, its coefficient k = h/Q², and that the loss grows with the square of the discharge.',
  abscissa: 'discharge',
  ordinate: 'pipeLoss',
  hold: [],
  by: () => 'jets and pump speed, with the throttle valve open',
  suggest: {
    reference: 'turbine.ratedDischarge',
    shares: () => [0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.95, 1.05],
  },
  record: ['pumpOutletPressure', 'inletPressure', 'throttleOpening', 'pumpSpeed', 'waterTemperature'],
  // Both gauges, not their difference: where little is lost its scatter is a large share of it and still averages out.
  steady: { discharge: 0.015, inletPressure: 0.01, pumpOutletPressure: 0.01 },
  fits: [{ model: 'pipeLoss', inBoth: true }],
  further: [{ name: 'With a free exponent', model: 'powerLaw', inBoth: true }],
  cautions: [
    {
      signal: 'WARNING',
      text: 'A gauge line under pressure sprays when it is opened. Stop the pump before bleeding it.',
    },
  ],
  method: [
    'Open the throttle valve fully and bleed the lines of both gauges: a bubble is a zero error, and it counts most where little is lost.',
    'Take the smallest discharge first; step it up by jets, and between them by the speed of the pump.',
    'Repeat the smallest and the largest discharge at the end.',
  ],
  checks: [
    {
      id: 'exponent',
      text: 'The exponent of the discharge is 2.',
      rule: furtherHas({ symbol: 'm', value: 2 }),
    },
    { id: 'rises', text: 'The loss rises with discharge at every step.', rule: rises },
    { id: 'repeats', text: 'Repeated settings agree within their bars.', rule: repeatsAgree },
  ],
}
