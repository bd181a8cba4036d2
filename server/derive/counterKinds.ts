import type { CounterGroup } from '../wire/replies.ts'
import {
  above,
  and,
  backward,
  forward,
  gridPower,
  isMotoring,
  isOf,
  isRunning,
  isSet,
  possiblePower,
} from './counting/conditions.ts'
import type { CountedPlant, CounterKind, Look } from './counting/kind.ts'
import type { Plan } from './plan.ts'

/** It has to run, or stand, this long [ms] to be a start [default]. */
const START_HOLD_MS = 10_000
/** Below this share of rated power a machine runs at part load [default]. */
const PART_LOAD = 0.5
/** Share of rated speed at which an over-speed event begins, and below which it ends (common practice, no source). */
const OVER_SPEED = 1.1
const OVER_SPEED_END = 1.07
/** Switches that trip within this time [ms] of each other belong together [default]. */
const TRIP_HOLD_MS = 10_000

/** The forward part of one figure, summed up. */
function integral(
  id: string,
  name: string,
  { figure, unit = 'J', group = 'energy', rate = forward }: IntegralOptions,
): CounterKind {
  const counting = { by: 'integral', of: figure, rate: (look: Look) => rate(look.value(figure)) } as const
  return { id, name, group, unit, figures: [figure], counting }
}

interface IntegralOptions {
  figure: string
  unit?: string
  group?: CounterGroup
  rate?: (value: number) => number
}

function metered(kind: CounterKind, meter: { role: string; most: string }): CounterKind {
  return kind.counting.by === 'integral' ? { ...kind, counting: { ...kind.counting, meter } } : kind
}

const isGridTied = ({ plant }: CountedPlant) => plant.use === 'gridTied'
const isRated = (figure: string) => (counted: CountedPlant) => counted.rated(figure) !== undefined

/** Every counter that is declared by itself; a plant gets those whose figures it has, and one for each trip. */
export const counterKinds: readonly CounterKind[] = [
  metered(integral('energyGenerated', 'Energy generated', { figure: 'activePower' }), {
    role: 'energyMeter',
    most: 'generator.ratedPower',
  }),
  integral('energyDc', 'Energy from the rectifier', { figure: 'rectifierPower' }),
  integral('energyUseful', 'Energy not burnt in the dump load', { figure: 'usefulPower' }),
  integral('energyDumped', 'Energy burnt in the dump load', { figure: 'dumpPower' }),
  integral('energyDelivered', 'Energy delivered to loads', { figure: 'loadPower' }),
  integral('energyPumped', 'Energy used by the pump', { figure: 'pumpInputPower' }),
  metered(
    {
      ...integral('energyExported', 'Energy to the grid', { figure: 'activePower' }),
      applies: isGridTied,
      counting: { by: 'integral', rate: (look) => forward(gridPower(look)) },
    },
    { role: 'exportMeter', most: 'generator.ratedPower' },
  ),
  metered(
    {
      ...integral('energyImported', 'Energy from the grid', { figure: 'activePower' }),
      applies: isGridTied,
      counting: { by: 'integral', rate: (look) => backward(gridPower(look)) },
    },
    { role: 'importMeter', most: 'generator.ratedPower' },
  ),
  {
    id: 'energyPossible',
    name: 'Energy that the river allowed (estimated)',
    group: 'energy',
    unit: 'J',
    figures: ['residualFlow', 'discharge'],
    applies: ({ plant, rated }) =>
      plant.licence?.handsOffFlow !== undefined &&
      rated('discharge') !== undefined &&
      rated('activePower') !== undefined,
    counting: { by: 'integral', rate: possiblePower, isEstimated: true },
  },
  metered(
    integral('waterVolume', 'Water through the turbine', {
      figure: 'discharge',
      unit: 'm3',
      group: 'water',
    }),
    { role: 'waterMeter', most: 'turbine.ratedDischarge' },
  ),
  {
    id: 'runSeconds',
    name: 'Run time',
    group: 'running',
    unit: 's',
    figures: ['activePower'],
    counting: { by: 'duration', holds: (look) => isRunning(look, false) },
  },
  {
    id: 'partLoadSeconds',
    name: 'Time at part load (below 50 %)',
    group: 'running',
    unit: 's',
    figures: ['activePower'],
    applies: isRated('activePower'),
    counting: {
      by: 'duration',
      holds: (look) => and(isRunning(look, false), look.share('activePower') < PART_LOAD),
    },
  },
  {
    id: 'starts',
    name: 'Starts',
    group: 'running',
    unit: '1',
    figures: ['activePower'],
    counting: { by: 'events', holds: isRunning, onMs: START_HOLD_MS, offMs: START_HOLD_MS },
  },
  {
    id: 'motoringSeconds',
    name: 'Time driven by the grid (motoring)',
    group: 'running',
    unit: 's',
    figures: ['activePower'],
    applies: (counted) => isGridTied(counted) && isRated('activePower')(counted),
    counting: { by: 'duration', holds: isMotoring },
  },
  {
    id: 'overSpeedSeconds',
    name: 'Time above 110 % of rated speed',
    group: 'protection',
    unit: 's',
    figures: ['speed'],
    applies: isRated('speed'),
    counting: { by: 'duration', holds: (look) => above(look.share('speed'), OVER_SPEED) },
  },
  {
    id: 'overSpeedEvents',
    name: 'Over-speed events (above 110 %)',
    group: 'protection',
    unit: '1',
    figures: ['speed'],
    applies: isRated('speed'),
    counting: {
      by: 'events',
      holds: (look, wasOn) => above(look.share('speed'), wasOn ? OVER_SPEED_END : OVER_SPEED),
      onMs: 0,
      offMs: START_HOLD_MS,
      peak: 'speed',
    },
  },
  {
    id: 'forcedStops',
    name: 'Forced stops (any trip)',
    group: 'protection',
    unit: '1',
    figures: ['tripped.*'],
    counting: { by: 'events', holds: (look) => look.any('tripped'), onMs: 0, offMs: TRIP_HOLD_MS },
  },
  {
    id: 'outageSeconds',
    name: 'Time tripped',
    group: 'protection',
    unit: 's',
    figures: ['tripped.*'],
    counting: { by: 'duration', holds: (look) => look.any('tripped') },
  },
  integral('batteryChargeIn', 'Charge into the battery', {
    figure: 'batteryCurrent',
    unit: 'C',
    group: 'battery',
  }),
  integral('batteryChargeOut', 'Charge out of the battery', {
    figure: 'batteryCurrent',
    unit: 'C',
    group: 'battery',
    rate: backward,
  }),
  integral('batteryEnergyIn', 'Energy into the battery', { figure: 'batteryPower', group: 'battery' }),
  integral('batteryEnergyOut', 'Energy out of the battery', {
    figure: 'batteryPower',
    group: 'battery',
    rate: backward,
  }),
]

/** Trips by cause: one counter for each switch that reports them. */
export function tripKind(figure: string, name: string): CounterKind {
  return {
    id: figure.replace('tripped', 'trips'),
    name: `Trips: ${name}`,
    group: 'protection',
    unit: '1',
    figures: [figure],
    counting: { by: 'events', holds: (look) => isSet(look.value(figure)), onMs: 0, offMs: TRIP_HOLD_MS },
  }
}

/** The counters that a plant's instruments allow. */
export function kindsFor(counted: CountedPlant, plan: Plan): CounterKind[] {
  const trips = plan.nodes
    .map((node) => node.description)
    .filter(({ id }) => isOf('tripped', id))
    .map(({ id, name }) => tripKind(id, name))
  const meterRoles = new Set(counted.plant.instruments.map(({ quantity }) => quantity))
  return [...counterKinds, ...trips].filter(({ figures: needed, applies, counting }) => {
    const isMetered = counting.by === 'integral' && counting.meter && meterRoles.has(counting.meter.role)
    const isThere = (figure: string) =>
      figure.endsWith('.*') ? trips.length > 0 && figure === 'tripped.*' : counted.has(figure)
    return (isMetered || needed.every(isThere)) && (applies?.(counted) ?? true)
  })
}
