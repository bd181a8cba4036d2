import type { Plant } from '../../plant/plant.ts'
import { agreesWithExpected } from '../checks/traceChecks.ts'
import { knownLoss } from '../theory/knownLoss.ts'
import { loadOff, nothingTripped, ratedSpeedOf, waterOff } from '../trace/conditions.ts'
import type { Condition, TraceTrial } from '../trial.ts'

/** Shares of rated speed: brought to at least the first, recorded down to the last. */
const READY = 1.02
const HIGHEST = 1.06
const LOWEST = 0.3

/** Inertia of everything that turns, from how fast it slows down when only its losses brake it. */
export const runDown: TraceTrial = {
  id: 'runDown',
  takes: 'traces',
  name: 'Run-down: inertia of the rotor',
  aim: 'How much inertia the rotor has: shut off and without load, only its losses brake it, and J·dω/dt = −T_loss(ω).',
  main: () => 'speed',
  needs: () => ['speed'],
  record: ['jetOpen', 'needleStroke', 'guideVaneOpening', 'phaseCurrent', 'frequency'],
  ready: speedReached,
  begin: (plant) => ({ kind: 'conditions', all: [...waterOff(plant), ...loadOff(plant)] }),
  end: (plant) => ({
    label: 'Slow enough',
    figure: 'speed',
    high: LOWEST * (ratedSpeedOf(plant) ?? 0),
    words: 'is still high',
    advice: 'wait',
  }),
  words: {
    begins: 'the water and the load are off and the speed falls',
    ends: 'the speed is below 30 % of rated',
  },
  secondsBefore: 3,
  longestSeconds: 300,
  repeats: 3,
  afterRestart: 'close',
  reduction: 'runDown',
  constants: constantsOf,
  typed: {
    figure: {
      id: 'lossPower',
      name: 'Power lost without load',
      symbol: 'P_l',
      unit: 'W',
      viewUnit: 'W',
      group: 'machine',
      origin: 'measured',
      staleAfterMs: null,
    },
    words:
      'A known loss without load: speed and power, e.g. torque times speed of the idling machine. It takes the place of what the plant file says.',
  },
  refuse: (plant) => {
    if (ratedSpeedOf(plant) === undefined) return 'the plant file states no rated speed'
    const isSilent = waterOff(plant).length === 0 || loadOff(plant).length === 0
    return isSilent ? 'it needs instruments that tell whether water and load are off' : undefined
  },
  cautions: [
    {
      signal: 'DANGER',
      text: 'Without load the machine runs up to its runaway speed for the water that it gets. Little water, guards closed, tested over-speed protection armed.',
    },
    { signal: 'DANGER', text: 'A generator makes voltage whenever the shaft turns, even with loads off.' },
  ],
  method: [
    'Open one jet at low head. When the head is low, take the load off the generator: the speed is now held by the water alone.',
    'Raise the head in small steps until the speed is 2 to 6 % above rated.',
    'Shut the water off at once (at a spear: the deflector). Let the machine run down untouched.',
    'Stop the pump meanwhile: against closed jets it only heats its water.',
    'Do it three times.',
  ],
  checks: [
    { id: 'fasterAtFirst', text: 'The speed falls faster at first: the losses grow with speed.' },
    { id: 'onEachOther', text: 'The three traces lie on each other.' },
    {
      id: 'plantFile',
      text: 'J agrees with the plant file; with a flywheel it is larger by the flywheel.',
      rule: agreesWithExpected('inertia'),
    },
  ],
}

function speedReached(plant: Plant): Condition[] {
  const rated = ratedSpeedOf(plant) ?? 0
  const advice = 'bring it to between 102 and 106 % of rated speed'
  return [
    ...nothingTripped(plant),
    {
      label: 'Speed reached',
      figure: 'speed',
      low: READY * rated,
      high: HIGHEST * rated,
      words: 'is not there yet',
      advice,
    },
  ]
}

function constantsOf(plant: Plant): Record<string, number | undefined> {
  const loss = knownLoss(plant)
  return {
    ratedSpeed: ratedSpeedOf(plant),
    lossSpeed: loss?.speed,
    lossPower: loss?.power,
    lossStandard: loss?.standard,
    inertia: plant.constants.get('generator.inertia'),
  }
}
