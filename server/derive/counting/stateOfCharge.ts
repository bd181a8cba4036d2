import type { Instrument, Plant } from '../../plant/plant.ts'
import type { Accumulated } from '../accumulations.ts'
import { constantError } from '../constantUncertainty.ts'
import { instrumentUncertainty } from '../instrumentUncertainty.ts'
import { type CounterState, EMPTY_STATE, integrate, rhythmOf, type Sample, stretchTo } from '../integrate.ts'
import { nodeOf } from '../plan.ts'
import type { StoredCounter } from './storedCounter.ts'
import { AHEAD_MS } from './tally.ts'
import type { Tracker, TrackerContext } from './tracker.ts'

/** Id under which it is kept. */
const ID = 'stateOfCharge'
/** The battery counts as full after this time [ms] at full voltage and tail current (trade practice, no source). */
const FULL_MS = 600_000
/** Current of a full battery as a share of its rated charge per hour, where the plant file does not say [default]. */
const TAIL_PER_HOUR = 0.05
/** After this time [s] that was not counted the anchor says nothing any more [default]. */
const MOST_GAP_S = 3600
/** Beyond 0 … 100 % by more than this something is wrong. */
const OUTSIDE = 0.02

type Anchor = 'full' | 'start'

interface Memory {
  anchor: Anchor | null
  /** Whether there ever was one: the start value is used once only. */
  wasAnchored: boolean
  /** Gap [s] of the state when the anchor was set. */
  gapAtAnchor: number
  /** Standard uncertainty [C] that the current instrument has added since the anchor. */
  u: number
  fullSince: number | null
}

const NO_ANCHOR: Memory = { anchor: null, wasAnchored: false, gapAtAnchor: 0, u: 0, fullSince: null }

/** A battery of the plant file and its instrument of current. */
interface Battery {
  ratedCharge: number
  chargeEfficiency: number
  fullVoltage: number | undefined
  tailCurrent: number
  startCharge: number | undefined
  /** Standard uncertainty of the rated charge as a share of it. */
  chargeDoubt: number
  current: Instrument
}

interface Course {
  state: CounterState
  memory: Memory
}

/** What was read of a battery at one moment. */
interface BatterySample {
  at: number
  /** [A], + charging; NaN when it cannot be given. */
  current: number
  /** [V]; NaN when it cannot be given. */
  voltage: number
  isUncertain: boolean
}

/**
 * State of charge by counting the charge:  SoC = (Q_anchor + ∫ η_c·I⁺ dt − ∫ I⁻ dt) / Q_r.
 *
 * The count is set to 100 % whenever the voltage has been at or above battery.fullVoltage with a current below
 * battery.tailCurrent for ten minutes. Its uncertainty grows from there with the accuracy of the current instrument:
 * an offset adds up, so u = ∫ u(I) dt / Q_r and not its square root; and with the distance from the anchor, since what
 * the battery holds is not known exactly: u = |SoC_anchor − SoC| · u(Q_r)/Q_r.
 * Undefined where the plant has an instrument of its own for it, or no battery current.
 * Source: trade practice for coulomb counting, no source.
 */
export function createStateOfCharge(context: TrackerContext): Tracker | undefined {
  const { plan, figures, evaluator, store } = context
  const node = nodeOf(plan, ID)
  const battery = batteryOf(context.plant)
  if (node?.kind !== 'accumulated' || !battery) return undefined
  const stored = store.load(context.plant.id, ID)
  let course = courseOf(stored)
  let since = stored?.since
  let saved: Course | undefined
  const rhythm = rhythmOf(figures.staleAfterMs('batteryCurrent'))

  return {
    tick(now) {
      since ??= now
      course = believe(course, now)
      const sample = {
        at: figures.at('batteryCurrent'),
        current: figures.value('batteryCurrent'),
        voltage: figures.value('batteryVoltage'),
        isUncertain: figures.quality('batteryCurrent') === 'uncertain',
      }
      if (!Number.isNaN(sample.at)) course = countCharge(course, sample, { battery, rhythm })
      evaluator.setAccumulated(node.index, accumulatedOf(course, battery))
    },
    change() {
      if (since === undefined || course === saved) return undefined
      const { state, memory } = course
      const counter = { id: ID, since, source: 'integrated', state, memory } as const
      return { counter, days: [], quarters: [] }
    },
    saved() {
      saved = course
    },
  }
}

/** A clock that was set back: what was counted stands, the time in between is a gap. */
function believe(course: Course, now: number): Course {
  const { at } = course.state
  return at !== null && at > now + AHEAD_MS
    ? { ...course, state: { ...course.state, at: now, last: null } }
    : course
}

function courseOf(stored: StoredCounter | undefined): Course {
  return {
    state: stored?.state ?? EMPTY_STATE,
    memory: (stored?.memory as Memory | undefined) ?? NO_ANCHOR,
  }
}

function batteryOf(plant: Plant): Battery | undefined {
  const { battery, instruments } = plant
  const current = instruments.find((one) => one.quantity === 'batteryCurrent')
  if (!battery || !current) return undefined
  const { ratedCharge, chargeEfficiency, fullVoltage, startCharge } = battery
  const tailCurrent = battery.tailCurrent ?? (TAIL_PER_HOUR * ratedCharge) / 3600
  const chargeDoubt = (constantError(plant, 'battery.ratedCharge')?.limits ?? 0) / ratedCharge
  return { ratedCharge, chargeEfficiency, fullVoltage, tailCurrent, startCharge, chargeDoubt, current }
}

interface Means {
  battery: Battery
  rhythm: ReturnType<typeof rhythmOf>
}

function countCharge(course: Course, sample: BatterySample, { battery, rhythm }: Means): Course {
  const { at, current, isUncertain } = sample
  if (Number.isNaN(current) || (course.state.at !== null && at <= course.state.at)) return course
  const begun = atStart(course, battery)
  const share = current > 0 ? battery.chargeEfficiency : 1
  const step: Sample = { at, rate: current * share, isUncertain }
  const stretch = stretchTo(begun.state, step, rhythm)
  const isCounted = stretch !== undefined && stretch.kind !== 'gap'
  const seconds = isCounted ? (stretch.to - stretch.from) / 1000 : 0
  const { limits, resolution } = instrumentUncertainty(battery.current, current)
  const counted = {
    state: integrate(begun.state, step, rhythm),
    memory: {
      ...begun.memory,
      u: begun.memory.u + Math.hypot(limits, resolution) * share * seconds,
    },
  }
  return withoutOldAnchor(atFull(counted, sample, { battery, isCounted }))
}

/** The start value of the plant file, as long as there never was an anchor. */
function atStart(course: Course, { startCharge, ratedCharge }: Battery): Course {
  if (startCharge === undefined || course.memory.wasAnchored) return course
  return anchored(course, 'start', startCharge * ratedCharge + course.state.value)
}

function atFull(
  course: Course,
  { at, voltage, current }: BatterySample,
  { battery, isCounted }: { battery: Battery; isCounted: boolean },
): Course {
  const { fullVoltage, tailCurrent, ratedCharge } = battery
  const isFull = fullVoltage !== undefined && voltage >= fullVoltage && Math.abs(current) <= tailCurrent
  const before = isCounted ? course.memory.fullSince : null
  const fullSince = isFull ? (before ?? at) : null
  const next = { ...course, memory: { ...course.memory, fullSince } }
  return fullSince !== null && at - fullSince >= FULL_MS ? anchored(next, 'full', ratedCharge) : next
}

function anchored({ state, memory }: Course, anchor: Anchor, charge: number): Course {
  return {
    state: { ...state, value: charge },
    memory: { ...memory, anchor, wasAnchored: true, gapAtAnchor: state.gapSeconds, u: 0 },
  }
}

function withoutOldAnchor(course: Course): Course {
  const { state, memory } = course
  if (memory.anchor === null || state.gapSeconds - memory.gapAtAnchor <= MOST_GAP_S) return course
  return { state: { ...state, value: 0 }, memory: { ...memory, anchor: null, u: 0 } }
}

function accumulatedOf({ state, memory }: Course, battery: Battery): Accumulated {
  const at = state.at ?? Number.NaN
  const share = state.value / battery.ratedCharge
  if (memory.anchor === null)
    return { at, value: Number.NaN, u: 0, quality: 'bad', reasons: [noAnchor(state, memory, battery)] }
  const reasons = [...unsure(state, memory), ...impossible(share)]
  const quality = reasons.length > 0 ? 'uncertain' : 'good'
  const from = memory.anchor === 'full' ? 1 : (battery.startCharge ?? 1)
  const u = Math.hypot(memory.u / battery.ratedCharge, (from - share) * battery.chargeDoubt)
  return { at, value: share, u, quality, reasons }
}

function noAnchor({ value, at }: CounterState, { wasAnchored }: Memory, { fullVoltage }: Battery): string {
  if (at === null) return 'no reading of the battery current yet'
  const change = `${value < 0 ? '−' : '+'}${Math.abs(value / 3600).toFixed(1)} Ah`
  const known = `only the change is known, ${change}`
  if (fullVoltage === undefined)
    return `no anchor: ${known}; give battery.fullVoltage or battery.startCharge in the plant file`
  return wasAnchored ? `no anchor any more after a long gap: ${known}` : `no anchor yet: ${known}`
}

function unsure({ gapSeconds }: CounterState, { anchor, gapAtAnchor }: Memory): string[] {
  const gap = Math.round(gapSeconds - gapAtAnchor)
  return [
    ...(anchor === 'start' ? ['counted from the start value in the plant file, no anchor yet'] : []),
    ...(gap >= 1 ? [`${gap} s of battery current were not counted since the anchor`] : []),
  ]
}

function impossible(share: number): string[] {
  const isOutside = share > 1 + OUTSIDE || share < -OUTSIDE
  return isOutside
    ? ['impossible: check the zero of the battery current, battery.ratedCharge and battery.chargeEfficiency']
    : []
}
