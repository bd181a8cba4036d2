import type { Plant } from '../../plant/plant.ts'
import type { SeriesRule } from '../../wire/findings.ts'
import { firstAbove } from '../checks/curveChecks.ts'
import { belowOne, repeatsAgree } from '../checks/pointChecks.ts'
import type { PointTrial } from '../trial.ts'
import { efficiencyDischarge } from './efficiencyDischarge.ts'

/** The valve counts as open from here on. */
const OPEN = 0.98

export const jetsOrThrottling: PointTrial = {
  id: 'jetsOrThrottling',
  takes: 'points',
  name: 'Jets switched or valve throttled',
  aim: 'How much more power comes from the same discharge when jets are shut one by one than when a valve throttles all of them: why a plant with several jets switches them.',
  abscissa: 'discharge',
  ordinate: 'pumpToWireEfficiency',
  hold: [
    {
      figure: 'pumpSpeed',
      target: [],
      fixed: 1,
      tolerance: 0.005,
      low: 'set the pump drive to a fixed speed of 100 %',
      high: 'set the pump drive to a fixed speed of 100 %',
    },
  ],
  by: () => 'shutting jets with the valve open, then throttling the valve with all jets open',
  suggest: { reference: 'turbine.ratedDischarge', shares: () => [0.6, 0.7, 0.8, 0.9, 1] },
  record: ['activePower', 'pumpInputPower', 'netHead', 'speed', 'hydraulicPower', 'pumpHead', 'shaftPower'],
  // The power, not the efficiency: near nothing its scatter is judged by the rated power.
  steady: { discharge: 0.015, activePower: 0.015, pumpInputPower: 0.015, speed: 0.01 },
  series: seriesOf,
  fits: [{ model: 'smooth', symbols: { v: 'throttleOpening', N: 'openJets' } }],
  cautions: [
    ...efficiencyDischarge.cautions,
    {
      signal: 'CAUTION',
      text: 'With the pump at full speed and few jets open the pressure rises. Stay below the limit of the manifold and never shut the last jet.',
    },
  ],
  method: [
    'Set the pump drive to a fixed speed of 100 %. Then the power put in depends on the discharge alone, and equal discharge compares equal effort.',
    'Open the valve fully. Shut one jet after the other down to two, then open them again; repeat each state.',
    'Open all jets. Close the valve in steps of about a tenth of the discharge, down to six tenths.',
    'Keep the speed that the load holds; where the throttled water cannot reach it any more, stop.',
  ],
  checks: [
    {
      id: 'switchingGivesMore',
      text: 'At equal discharge switching gives more than throttling.',
      rule: firstAbove,
    },
    { id: 'belowOne', text: 'No efficiency is above 1.', rule: belowOne },
    { id: 'repeats', text: 'Repeated settings agree within their bars.', rule: repeatsAgree },
    { id: 'sameAtFull', text: 'Near the full discharge both ways come to the same.' },
    {
      id: 'steep',
      text: 'The throttled curve falls steeply: the valve takes the head, and the runner is too fast for what is left.',
    },
  ],
}

function seriesOf({ turbine }: Plant): SeriesRule[] {
  const all = (turbine?.jets ?? 1) - 0.5
  return [
    {
      id: 'switched',
      name: 'Jets switched, valve open',
      where: [{ figure: 'throttleOpening', from: OPEN, to: null }],
    },
    {
      id: 'throttled',
      name: 'Valve throttled, all jets open',
      where: [
        { figure: 'throttleOpening', from: null, to: OPEN },
        { figure: 'openJets', from: all, to: null },
      ],
    },
  ]
}
