import type { Plant } from '../../plant/plant.ts'
import { hasQuantity } from '../trace/conditions.ts'
import type { Jump, TraceTrial } from '../trial.ts'

/** A load of at least this share of the rated one is a step. */
const STEP = 0.1

/** How the dump load holds voltage or frequency when a load is switched. */
export const loadStep: TraceTrial = {
  id: 'loadStep',
  takes: 'traces',
  name: 'Dump load: regulation after a load step',
  aim: 'How far voltage or frequency goes when a load is switched, how long it takes to settle, and what the dump load has left.',
  main: regulated,
  needs: (plant) => [regulated(plant), hasQuantity(plant, 'dumpPower') ? 'dumpPower' : 'dumpCurrent'],
  record: [
    'loadOn',
    'loadPower',
    'inverterOutputPower',
    'dumpVoltage',
    'batteryVoltage',
    'batteryCurrent',
    'frequency',
    'activePower',
  ],
  begin: (plant) => ({ kind: 'change', of: jumpsOf(plant) }),
  words: { begins: 'a load is switched', ends: '9 s have gone by since' },
  secondsBefore: 8,
  longestSeconds: 9,
  repeats: 6,
  afterRestart: 'close',
  reduction: 'loadStep',
  constants: constantsOf,
  refuse: (plant) => {
    if (plant.dump?.ratedPower === undefined) return 'the plant file states no dump load with its rated power'
    return jumpsOf(plant).length === 0 ? 'no instrument tells when a load is switched' : undefined
  },
  cautions: [
    {
      signal: 'WARNING',
      text: 'The dump load and its resistors get hot: keep the air way clear and do not touch.',
    },
    {
      signal: 'NOTICE',
      text: 'Switch only loads that people can do without. A plant that serves people is no place for a 100 % step.',
    },
  ],
  method: [
    'Let voltage or frequency settle, with the dump load somewhere between a tenth and nine tenths of its power.',
    'Switch a load of about 25 % of the rated one on; wait until the trace is stored; switch it off again.',
    'Do the same with 50 % and, where it is allowed, with 100 %, three times each.',
  ],
  checks: [
    { id: 'upsideDown', text: 'A step the other way gives about the same picture upside down.' },
    { id: 'larger', text: 'A larger step goes farther, but does not take longer to settle.' },
    {
      id: 'atEnd',
      text: 'At an end of its range the dump load regulates no more: the value then runs away or is held by something else.',
    },
  ],
}

/** A battery bus has its voltage held, an island its frequency; of speed and frequency the faster instrument. */
function regulated(plant: Plant): string {
  if (hasQuantity(plant, 'dumpVoltage')) return 'dumpVoltage'
  const period = (quantity: string) =>
    plant.instruments.find((one) => one.quantity === quantity)?.periodMs ?? Number.POSITIVE_INFINITY
  return period('frequency') <= period('speed') ? 'frequency' : 'speed'
}

function jumpsOf(plant: Plant): Jump[] {
  const reference = ratedLoadOf(plant)
  const powers = ['loadPower', 'inverterOutputPower'].filter((one) => hasQuantity(plant, one))
  return [
    ...(hasQuantity(plant, 'loadOn') ? [{ figure: 'loadOn', by: 0.5 }] : []),
    ...(reference === undefined ? [] : powers.map((figure) => ({ figure, by: STEP * reference }))),
  ]
}

function ratedLoadOf({ constants }: Plant): number | undefined {
  const inverter =
    constants.get('dump.ratedPower') !== undefined ? constants.get('inverter.ratedPower') : undefined
  return constants.get('generator.ratedPower') ?? inverter
}

function constantsOf(plant: Plant): Record<string, number | undefined> {
  const { constants } = plant
  const pairs = plant.generator?.polePairs
  return {
    ratedLoad: ratedLoadOf(plant),
    dumpPower: constants.get('dump.ratedPower'),
    ratedFrequency: constants.get('generator.ratedFrequency'),
    hertzPerSpeed: regulated(plant) === 'speed' && pairs !== undefined ? pairs / (2 * Math.PI) : undefined,
  }
}
