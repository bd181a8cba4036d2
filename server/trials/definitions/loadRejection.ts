import type { Plant } from '../../plant/plant.ts'
import { agreesWithExpected } from '../checks/traceChecks.ts'
import { hasQuantity, nothingTripped, ratedSpeedOf } from '../trace/conditions.ts'
import type { TraceTrial } from '../trial.ts'

/** Power from which the load is thrown off, as shares of the rated one; reduced on purpose. */
const LEAST = 0.05
const MOST = 0.5

/** Load rejection at reduced head and power: how fast the rotor gains speed, and how far it goes. */
export const loadRejection: TraceTrial = {
  id: 'loadRejection',
  takes: 'traces',
  name: 'Load rejection at reduced head (instructor only)',
  aim: 'How fast the speed rises when the load is lost, the mechanical time constant that follows, and how far the speed goes.',
  main: () => 'speed',
  needs: () => ['speed', 'activePower'],
  record: ['phaseCurrent', 'frequency', 'jetOpen', 'needleStroke', 'tripped', 'phaseVoltage'],
  ready: (plant) => {
    const rated = plant.constants.get('generator.ratedPower') ?? 0
    const advice = 'load the generator with 5 to 50 % of its rated power, at reduced head'
    return [
      ...nothingTripped(plant),
      {
        label: 'Reduced power',
        figure: 'activePower',
        low: LEAST * rated,
        high: MOST * rated,
        words: 'is not between 5 and 50 % of rated',
        advice,
      },
    ]
  },
  begin: ({ constants }) => ({
    kind: 'change',
    of: [{ figure: 'activePower', by: (LEAST / 2) * (constants.get('generator.ratedPower') ?? 0), sign: -1 }],
  }),
  words: { begins: 'the load is lost', ends: '10 s have gone by since' },
  secondsBefore: 5,
  longestSeconds: 10,
  repeats: 3,
  afterRestart: 'close',
  reduction: 'loadRejection',
  constants: constantsOf,
  refuse: (plant) => {
    if (plant.generator?.kind === 'induction')
      return 'a grid-tied machine must not be thrown off its grid for a lesson'
    if (ratedSpeedOf(plant) === undefined || plant.generator?.ratedPower === undefined)
      return 'the plant file states no rated speed and power'
    return hasQuantity(plant, 'activePower') ? undefined : 'the power before the rejection is not measured'
  },
  cautions: [
    {
      signal: 'DANGER',
      text: 'Instructor only. Reduced head, guards closed, tested hard-wired over-speed protection armed, nobody in the plane of the runner, stop button in hand.',
    },
    {
      signal: 'DANGER',
      text: 'Speed rises by a tenth within a fifth of a second: no computer and no person on the network is fast enough to protect anything.',
    },
    {
      signal: 'WARNING',
      text: 'Voltage without load rises with speed: rectifier, charge controller and capacitors must stand it.',
    },
  ],
  method: [
    'Reduce the head so far that the runaway speed for this water stays below the trip of the over-speed protection.',
    'Load the generator with 5 to 50 % of its rated power and let it settle.',
    'Throw the load off at once. Keep away; take the water off when the trace is stored.',
    'Do it three times, from the same power.',
  ],
  checks: [
    { id: 'straight', text: 'The speed rises along a straight line at first: power before over J·ω.' },
    {
      id: 'bends',
      text: 'It bends because the runner gives less torque the faster it turns, and ends at the runaway speed for this water.',
    },
    { id: 'runDown', text: 'The time constant agrees with J of the run-down.' },
    { id: 'plantFile', text: 'J agrees with the plant file.', rule: agreesWithExpected('inertia') },
  ],
}

function constantsOf(plant: Plant): Record<string, number | undefined> {
  const { constants, generator } = plant
  return {
    ratedSpeed: ratedSpeedOf(plant),
    ratedPower: constants.get('generator.ratedPower'),
    inertia: constants.get('generator.inertia'),
    windingResistance: constants.get('generator.windingResistance'),
    phases: generator?.phases,
  }
}
