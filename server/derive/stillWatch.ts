import type { Reading } from '../ingest/reading.ts'
import type { Instrument, Plant } from '../plant/plant.ts'
import { fromSi } from '../wire/units.ts'
import { relationsOf } from './agreement/relations/index.ts'
import { amount } from './jumps.ts'

/** How the reason of a frozen instrument begins. */
export const FROZEN = 'seems frozen'

/**
 * Tells an instrument that is frozen: it scattered from reading to reading, has sent exactly the same value since, and what
 * stands in one relation with it has moved meanwhile.
 *
 * Limits: at least 15 equal readings over 20 s. Of the 20 steps before, 14 must have been steps at all and 5 of them
 * turned back, so that neither rounding nor a position that a controller leaves alone counts as frozen; with three in ten readings
 * repeated by chance, 15 in a row are 5 in 10⁸. Not at 0 or an end of the range, where a standstill or a full scale are still.
 * Source: common practice, no source; the chance is 0.3¹⁴.
 */
export interface StillWatch {
  /** Takes the reading that counts from now on. */
  take(leaf: number, reading: Reading): void
  /** Why the instrument seems frozen, with the evidence. */
  reason(leaf: number): string | undefined
  /** What it knows of one instrument, to go on with elsewhere at the same plant. */
  memory(leaf: number): Run | undefined
  restore(leaf: number, memory: Run | undefined): void
}

/** What else is known of an instrument. */
export interface Known {
  value: number
  /** Movements up to this are its scatter [SI]. */
  scatter: number
}

const STEPS = (1 << 20) - 1
const FEWEST_MOVED = 14
const FEWEST_TURNED = 5
const FEWEST_EQUAL = 15
const SHORTEST_MS = 20_000
/** A partner has moved by this share of what it was, and by more than it scatters. */
const MOVED_SHARE = 0.05
const TIMES_SCATTER = 8
const END_SHARE = 0.005

export interface Run {
  value: number
  /** Since when it has been the same [ms UTC], and how many readings. */
  since: number
  equal: number
  wasRestless: boolean
  /** Of its partners, when it began. */
  before: number[]
  /** The last steps from reading to reading as bits, the newest lowest: whether it moved at all, and turned back. */
  moved: number
  turned: number
  direction: number
  reason: string | undefined
}

export function createStillWatch(plant: Plant, knownOf: (leaf: number) => Known | undefined): StillWatch {
  const { instruments } = plant
  const partners = partnersOf(plant)
  const runs: (Run | undefined)[] = instruments.map(() => undefined)

  function take(leaf: number, { measuredAt, value }: Reading): void {
    if (partners[leaf]!.length === 0) return
    const run = runs[leaf]
    if (!run) {
      runs[leaf] = { ...NEW, value, since: measuredAt }
      return
    }
    const step = Math.sign(value - run.value)
    if (step !== 0) move(run, { measuredAt, value, step })
    else stay(run, leaf, measuredAt)
    const isTurn = step !== 0 && run.direction !== 0 && step !== run.direction
    run.moved = ((run.moved << 1) | Math.abs(step)) & STEPS
    run.turned = ((run.turned << 1) | Number(isTurn)) & STEPS
    if (step !== 0) run.direction = step
  }

  function move(run: Run, { measuredAt, value }: { measuredAt: number; value: number; step: number }): void {
    run.value = value
    run.since = measuredAt
    run.equal = 1
    run.reason = undefined
  }

  function stay(run: Run, leaf: number, at: number): void {
    if (run.equal++ === 1) {
      run.wasRestless =
        bits(run.moved) >= FEWEST_MOVED &&
        bits(run.turned) >= FEWEST_TURNED &&
        !isAtEnd(instruments[leaf]!, run.value)
      if (run.wasRestless) run.before = partners[leaf]!.map((one) => knownOf(one)?.value ?? Number.NaN)
    }
    if (!run.wasRestless || run.equal < FEWEST_EQUAL || at - run.since < SHORTEST_MS) return
    run.reason ??= evidence(run, leaf, at)
  }

  function evidence(run: Run, leaf: number, at: number): string | undefined {
    const place = partners[leaf]!.findIndex((one, i) => hasMoved(run.before[i]!, knownOf(one)))
    if (place < 0) return undefined
    const other = instruments[partners[leaf]![place]!]!
    const [then, now] = [run.before[place]!, knownOf(partners[leaf]![place]!)!.value]
    const same = `${amount(run.value, instruments[leaf]!)} for ${Math.round((at - run.since) / 1000)} s`
    return `${FROZEN}: exactly ${same}, while ${other.name} went from ${amount(then, other)} to ${amount(now, other)}`
  }

  return {
    take,
    reason: (leaf) => runs[leaf]?.reason,
    memory: (leaf) => runs[leaf],
    restore(leaf, memory) {
      runs[leaf] = memory && { ...memory }
    },
  }
}

const NEW: Omit<Run, 'value' | 'since'> = {
  equal: 1,
  wasRestless: false,
  before: [],
  moved: 0,
  turned: 0,
  direction: 0,
  reason: undefined,
}

/** Those that stand in one relation with it, by leaf. */
function partnersOf(plant: Plant): number[][] {
  const needs = relationsOf(plant).map((relation) => relation.needs)
  return plant.instruments.map(({ quantity, periodic, role }, leaf) => {
    if (!periodic || role?.discrete || role?.counter) return []
    const beside = new Set(needs.filter((one) => one.includes(quantity)).flat())
    return plant.instruments.flatMap((other, i) =>
      i !== leaf && other.periodic && !other.role?.discrete && beside.has(other.quantity) ? [i] : [],
    )
  })
}

function hasMoved(before: number, now: Known | undefined): boolean {
  if (!now) return false
  const apart = Math.abs(now.value - before)
  return apart > MOVED_SHARE * Math.abs(before) && apart > TIMES_SCATTER * now.scatter
}

/** At standstill, or where it can show no more. */
function isAtEnd({ range, unit }: Instrument, value: number): boolean {
  const [low, high] = range ?? [0, 0]
  const shown = fromSi(value, unit)
  return [0, low, high].some((end) => Math.abs(shown - end) <= END_SHARE * (high - low))
}

function bits(of: number): number {
  let count = 0
  for (let rest = of; rest > 0; rest >>= 1) count += rest & 1
  return count
}
