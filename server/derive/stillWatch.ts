import type { Reading } from '../ingest/reading.ts'
import type { Instrument, Plant } from '../plant/plant.ts'
import { fromSi } from '../wire/units.ts'
import { relationsOf } from './agreement/relations/index.ts'
import { amount } from './jumps.ts'

/** How the reason of a frozen instrument begins. */
export const FROZEN = 'seems frozen'

/**
 * Tells an instrument that is frozen: it scattered from reading to reading, has sent exactly the same value since, and either what
 * stands in one relation with it has moved meanwhile, or, without any relation, all that scattered beside it goes on as before.
 *
 * Limits: at least 15 equal readings over 20 s. Of the 20 steps before, 14 must have been steps at all and 5 of them
 * turned back, so that neither rounding nor a position that a controller leaves alone counts as frozen; with three in ten readings
 * repeated by chance, 15 in a row are 5 in 10⁸. Not at 0 or an end of the range, where a standstill or a full scale are still.
 * Where nothing has moved: 30 equal readings over 30 s, 18 steps of 20, on a value among those just before (what goes to rest or
 * is switched lands elsewhere), while at least two others at least as fast, one of them of the machine that runs, keep their level and
 * their scatter (where a swing dies out, they calm with it); positions are left out, since a controller may leave them alone.
 * Source: common practice, no source; the chances are 0.3¹⁴ and less than 0.3²⁸.
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
/** The same where nothing else has moved. */
const FEWEST_MOVED_ALONE = 18
const FEWEST_EQUAL_ALONE = 30
const SHORTEST_ALONE_MS = 30_000
const FEWEST_GOING_ON = 2
/** Who goes on has kept this share of its scatter and of its value. */
const KEPT_SHARE = 0.5
/** A value among those before is this many of the scatter from their mean, which is that of about so many. */
const AMONG_SCATTER = 4
const MEAN_OF = 5
/** That one of them goes on tells that the machine runs. */
const OF_MACHINE: ReadonlySet<string> = new Set(['speed', 'frequency', 'activePower', 'discharge'])

export interface Run {
  value: number
  /** Since when it has been the same [ms UTC], and how many readings. */
  since: number
  equal: number
  wasRestless: boolean
  /** Of its partners, when it began. */
  before: number[]
  /** Mean of the readings before it began, the newest counting most. */
  mean: number
  /** What scattered beside it when it began; empty where it says nothing without a partner that moves. */
  beside: { leaf: number; value: number; scatter: number }[]
  /** The last steps from reading to reading as bits, the newest lowest: whether it moved at all, and turned back. */
  moved: number
  turned: number
  direction: number
  reason: string | undefined
}

export function createStillWatch(plant: Plant, knownOf: (leaf: number) => Known | undefined): StillWatch {
  const { instruments } = plant
  const partners = partnersOf(plant)
  const others = othersOf(plant)
  const runs: (Run | undefined)[] = instruments.map(() => undefined)

  function take(leaf: number, { measuredAt, value }: Reading): void {
    if (partners[leaf]!.length + others[leaf]!.length === 0) return
    const run = runs[leaf]
    if (!run) {
      runs[leaf] = { ...NEW, value, mean: value, since: measuredAt }
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
    run.mean += (run.value - run.mean) / MEAN_OF
    run.value = value
    run.since = measuredAt
    run.equal = 1
    run.reason = undefined
  }

  function stay(run: Run, leaf: number, at: number): void {
    if (run.equal++ === 1) begin(run, leaf)
    if (!run.wasRestless || run.equal < FEWEST_EQUAL || at - run.since < SHORTEST_MS) return
    run.reason ??= evidence(run, leaf, at) ?? evidenceAlone(run, leaf, at)
  }

  function begin(run: Run, leaf: number): void {
    run.wasRestless = isRestless(run) && !isAtEnd(instruments[leaf]!, run.value)
    if (!run.wasRestless) return
    run.before = partners[leaf]!.map((one) => knownOf(one)?.value ?? Number.NaN)
    const scatter = knownOf(leaf)?.scatter ?? 0
    const isAmong = Math.abs(run.value - run.mean) <= AMONG_SCATTER * scatter
    run.beside = isAmong && bits(run.moved) >= FEWEST_MOVED_ALONE ? scattering(leaf) : []
  }

  function scattering(leaf: number): Run['beside'] {
    return others[leaf]!.flatMap((one) => {
      const [run, known] = [runs[one], knownOf(one)]
      const is = run && known && isRestless(run) && !isAtEnd(instruments[one]!, known.value)
      return is ? [{ leaf: one, ...known }] : []
    })
  }

  function evidence(run: Run, leaf: number, at: number): string | undefined {
    const place = partners[leaf]!.findIndex((one, i) => hasMoved(run.before[i]!, knownOf(one)))
    if (place < 0) return undefined
    const other = instruments[partners[leaf]![place]!]!
    const [then, now] = [run.before[place]!, knownOf(partners[leaf]![place]!)!.value]
    const same = `${amount(run.value, instruments[leaf]!)} for ${Math.round((at - run.since) / 1000)} s`
    return `${FROZEN}: exactly ${same}, while ${other.name} went from ${amount(then, other)} to ${amount(now, other)}`
  }

  /** Where nothing need have moved. */
  function evidenceAlone({ beside, value, equal, since }: Run, leaf: number, at: number): string | undefined {
    if (equal < FEWEST_EQUAL_ALONE || at - since < SHORTEST_ALONE_MS || beside.length < FEWEST_GOING_ON)
      return undefined
    if (!beside.some((one) => OF_MACHINE.has(instruments[one.leaf]!.quantity))) return undefined
    if (!beside.every((one) => goesOn(one, runs[one.leaf], knownOf(one.leaf)))) return undefined
    const same = `${amount(value, instruments[leaf]!)} for ${Math.round((at - since) / 1000)} s`
    const names = beside.slice(0, 2).map((one) => instruments[one.leaf]!.name)
    return `${FROZEN}: exactly ${same}, while ${names.join(' and ')} scatter as before`
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

const NEW: Omit<Run, 'value' | 'mean' | 'since'> = {
  equal: 1,
  wasRestless: false,
  before: [],
  beside: [],
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

/** Those that may show, without a relation, that the plant goes on: at least as fast, by leaf. */
function othersOf({ instruments }: Plant): number[][] {
  const canScatter = ({ periodic, role, quantity }: Instrument) =>
    periodic &&
    role !== undefined &&
    !role.discrete &&
    !role.counter &&
    !/(Opening|Position|Stroke)/.test(quantity)
  return instruments.map((one, leaf) =>
    canScatter(one)
      ? instruments.flatMap((other, i) =>
          i !== leaf && canScatter(other) && other.periodMs <= one.periodMs ? [i] : [],
        )
      : [],
  )
}

function isRestless({ moved, turned }: Run): boolean {
  return bits(moved) >= FEWEST_MOVED && bits(turned) >= FEWEST_TURNED
}

function goesOn(
  before: { value: number; scatter: number },
  run: Run | undefined,
  now: Known | undefined,
): boolean {
  if (!run || !now || !isRestless(run)) return false
  return (
    now.scatter >= KEPT_SHARE * before.scatter && Math.abs(now.value) >= KEPT_SHARE * Math.abs(before.value)
  )
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
