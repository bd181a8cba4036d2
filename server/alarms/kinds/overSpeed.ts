import { type Witness, witnessesOf } from '../../derive/witnesses.ts'
import type { Quality } from '../../wire/figure.ts'
import { type ConditionState, createRawInput, type RawInput, type RawSample } from '../inputs.ts'
import {
  type AlarmKind,
  AmountFault,
  type ConditionWatcher,
  type Moment,
  type WatchedCondition,
  type WatcherInputs,
} from './kind.ts'
import { createLevelTimes, type LevelTime, type LevelTimes, levelsText, readLevels } from './levelTimes.ts'

/**
 * Speed at or above a limit, or above levels for their times, judged on every raw reading and on peak-hold values at
 * once: one sample is enough. A small unit passes 120 % within half a second of losing its load, so nothing may
 * filter or delay it. Frequency and voltage are heard beside the tachometer, and any one of them raises: a tachometer
 * that is silent or stuck must not hide a machine that runs away. It tells people; it cannot protect the machine,
 * which needs its own hard-wired trip.
 */
export const overSpeed: AlarmKind = {
  id: 'overSpeed',
  hasAmount: true,
  isForSafety: true,
  needs: ['figure'],
  may: ['limit', 'levels', 'deadband'],
  read(fields): WatchedCondition {
    const { file, plant, figure } = fields
    if ((file.limit === undefined) === (file.levels === undefined))
      throw new AmountFault('limit', 'either "limit" or "levels", not both')
    const levels = file.levels ? readLevels(fields) : [{ limit: fields.level('limit'), forMs: 0 }]
    const deadband = fields.deadband(levels[0]!.limit)
    const witnesses =
      figure.id === 'speed'
        ? witnessesOf(plant)
        : [{ quantity: figure.id, name: 'its instrument', toSpeed: (value: number) => value }]
    return {
      condition: file.levels ? levelsText(file.levels) : `at or above ${file.limit}`,
      ...(file.levels ? {} : { limit: levels[0]!.limit }),
      uses: [figure.id],
      open: (inputs) => watchSpeed({ figure: figure.id, levels, deadband, witnesses }, inputs),
    }
  },
}

interface SpeedRule {
  figure: string
  levels: readonly LevelTime[]
  deadband: number
  witnesses: readonly Witness[]
}

/** One witness and what it says now. */
interface Heard {
  witness: Witness
  input: RawInput
  times: LevelTimes
  /** Undefined: it is silent, or what it sends is bad. */
  holds: boolean | undefined
  /** Generator speed [rad/s] by this witness. */
  speed: number
  quality: Quality
  late: LateStream
  /** What it said in readings of long ago, and of when the last of them was [ms UTC]. */
  past: { times: LevelTimes; at: number }
}

/**
 * What a witness says in readings that come after others with later times. Two sources speak for one instrument then,
 * a clock is wrong, or a device sends what it had kept for some seconds; nobody knows which, so over-speed is heard.
 */
interface LateStream {
  times: LevelTimes
  holdMs: number
  /** When the newest of them came [ms UTC]. */
  at: number
  holds: boolean
  speed: number
}

/** So long [ms] a late reading counts after it came, or until its figure would be stale. */
const LATE_HOLD_MS = 2000

function watchSpeed(
  { figure, levels, deadband, witnesses }: SpeedRule,
  inputs: WatcherInputs,
): ConditionWatcher {
  const noLevels = () => createLevelTimes(levels, deadband, false)
  const heard: Heard[] = (witnesses.length > 0 ? witnesses : [ownFigure(figure)]).map((witness) => ({
    witness,
    input: createRawInput(witness.quantity, inputs.figures),
    times: createLevelTimes(levels, deadband, inputs.wasHeld),
    holds: undefined,
    speed: Number.NaN,
    quality: 'bad',
    past: { times: noLevels(), at: Number.NEGATIVE_INFINITY },
    late: {
      times: noLevels(),
      holdMs: holdOf(inputs.figures.staleAfterMs(witness.quantity)),
      at: Number.NEGATIVE_INFINITY,
      holds: false,
      speed: Number.NaN,
    },
  }))
  const byQuantity = new Map(heard.map((one) => [one.witness.quantity, one]))

  /** This server's clock [ms UTC] when something was heard last: devices may lag behind it. */
  let clock = Number.NEGATIVE_INFINITY

  /** Any witness raises; the condition is gone when every one that can be heard says so. */
  function sum(now: number): ConditionState {
    let highest: Heard | undefined
    let holds: boolean | undefined
    for (const one of heard) {
      hear(one, now)
      if (isToldLate(one, clock)) hearToo(one)
      if (one.holds === undefined) continue
      holds = holds === true || one.holds
      if (highest === undefined || one.speed > highest.speed) highest = one
    }
    return { holds, value: highest?.speed ?? Number.NaN, at: now, quality: highest?.quality ?? 'bad' }
  }

  return {
    watches: heard.map((one) => one.witness.quantity),
    takesLate: true,
    isWorse: (a, b) => a > b,
    takeSample(sample) {
      const one = byQuantity.get(sample.quantity)!
      clock = sample.receivedAt
      if (sample.isLate) {
        if (!isRecent(one.late, clock)) one.late.times = noLevels()
        hearLate(one, sample)
        return sum(clock)
      }
      one.input.take(sample)
      return sum(sample.at)
    },
    judgePast(sample) {
      const { witness, past, quality } = { ...byQuantity.get(sample.quantity)!, quality: sample.quality }
      const speed = witness.toSpeed(sample.value)
      // a buffer may be emptied the other way round, and levels are held for times that go forward
      if (Math.abs(sample.at - past.at) > LATE_HOLD_MS * 5) past.times = noLevels()
      past.at = sample.at
      if (quality === 'bad' && !past.times.isBeyond(speed)) return undefined
      if (!past.times.update(speed, sample.at) || !past.times.isBeyond(speed)) return undefined
      return { value: speed, at: sample.at, quality: quality === 'bad' ? 'uncertain' : quality }
    },
    judge({ now }: Moment) {
      clock = now
      return sum(now)
    },
    detail: () => whoTold(heard, clock),
  }
}

/** A reading beyond the range of the instrument may raise, but a bad one never clears. */
function hear(one: Heard, now: number): void {
  const { value, quality, at } = one.input.newest(now)
  one.speed = one.witness.toSpeed(value)
  const isLost = Number.isNaN(one.speed) || (quality === 'bad' && !one.times.isBeyond(one.speed))
  one.holds = isLost ? undefined : one.times.update(one.speed, at)
  one.quality = quality === 'bad' && !isLost ? 'uncertain' : quality
}

/** Late readings raise what is heard, and never lower it. */
function hearToo(one: Heard): void {
  const isInOrder = one.holds === true && one.speed >= one.late.speed
  one.holds = true
  if (isInOrder) return
  one.speed = Number.isNaN(one.speed) ? one.late.speed : Math.max(one.speed, one.late.speed)
  one.quality = 'uncertain'
}

function hearLate({ witness, late }: Heard, { value, at, quality, receivedAt }: RawSample): void {
  const speed = witness.toSpeed(value)
  if (quality === 'bad' && !late.times.isBeyond(speed)) return
  late.holds = late.times.update(speed, at)
  late.speed = speed
  late.at = receivedAt
}

function holdOf(staleAfterMs: number): number {
  return Number.isFinite(staleAfterMs) ? Math.max(LATE_HOLD_MS, staleAfterMs) : LATE_HOLD_MS
}

/** Late readings tell of over-speed now; none that is in its order takes it back. */
function isToldLate({ late }: Heard, clock: number): boolean {
  return late.holds && isRecent(late, clock)
}

/** What was said longer ago is forgotten, with the times that levels had been held for. */
function isRecent(late: LateStream, clock: number): boolean {
  return Math.abs(clock - late.at) <= late.holdMs
}

/** Says who is heard where it is not, or not only, the first witness. */
function whoTold(heard: readonly Heard[], clock: number): string | undefined {
  const late = heard.find((one) => isToldLate(one, clock))
  if (late)
    return `told by readings of ${late.witness.name} out of order: two sources, a wrong clock, or a buffer`
  const [first, ...others] = heard
  if (!first || others.length === 0 || first.holds === true) return undefined
  const isSilent = first.holds === undefined
  const told = others.filter((one) => (isSilent ? one.holds !== undefined : one.holds === true))
  if (told.length === 0) return undefined
  const names = [...new Set(told.map((one) => one.witness.name))].join(' and ')
  return `told by ${names}; ${first.witness.name} ${isSilent ? 'is silent or bad' : 'disagrees'}`
}

function ownFigure(figure: string): Witness {
  return { quantity: figure, name: 'its formula', toSpeed: (value) => value }
}
