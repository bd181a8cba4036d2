import type { Reading } from '../ingest/reading.ts'
import type { Plant } from '../plant/plant.ts'
import { instrumentUncertainty } from './instrumentUncertainty.ts'
import { canSpike, createJumpWatch, type JumpMemory, type JumpWatch } from './jumps.ts'
import type { LeafUncertainty } from './propagation.ts'
import { createScatter, hasScatter, type Scatter, type ScatterMemory } from './scatter.ts'
import { createStillWatch, type Run } from './stillWatch.ts'
import { saidOf, type Verdict } from './verdict.ts'

/**
 * What comes in from the instruments of one plant, before anything is computed: which reading of each is the one that
 * counts, which waits for the next, and what a reading is worth. It knows nothing but readings, so whoever is told the
 * same ones stands at the same.
 */
export interface Intake {
  /**
   * Takes a reading unless it is late. Returns what it settles for whoever counts or stores, oldest first: none where it
   * lies so far off that it waits for the next one (jumps.ts), and then that one first, marked where it was a spike.
   */
  take(reading: Reading): readonly Reading[]
  /** The one that counts, by leaf. */
  latest(leaf: number): Reading | undefined
  /** The latest of each instrument that has one; one that waits for the next is not among them. */
  readings(): Reading[]
  /** The one that waits for the next, and why. */
  waiting(leaf: number): ReturnType<JumpWatch['waiting']>
  /** What is to be said of an instrument beside what its latest reading says. */
  remarks(leaf: number): string[]
  /** Whoever is named is uncertain from the next evaluation on, and so is what follows from it; undefined: nobody. */
  setVerdict(verdict: Verdict | undefined): void
  /** What is said against instruments, by themselves or by the others: a sentence each. */
  suspicions(): string[]
  /** What the latest reading is worth, where one came since this was asked the last time. */
  news(leaf: number): LeafUncertainty | undefined
  /** All that is known of each instrument, by its id. */
  memory(): IntakeMemory
  /** Goes on from there, for the instruments that it names. */
  restore(memory: IntakeMemory): void
}

export type IntakeMemory = Record<string, InstrumentMemory>

interface InstrumentMemory {
  latest: Reading | undefined
  scatter: ScatterMemory | undefined
  jumps: JumpMemory | undefined
  still: Run | undefined
}

/** @param onValue Called for every reading that is worth something. */
export function createIntake(
  plant: Plant,
  onValue: (leaf: number, at: number, value: number) => void,
): Intake {
  const { instruments } = plant
  const latest: (Reading | undefined)[] = instruments.map(() => undefined)
  const scatters: (Scatter | undefined)[] = instruments.map(({ role }) =>
    hasScatter(role) ? createScatter() : undefined,
  )
  const jumps: (JumpWatch | undefined)[] = instruments.map((instrument) =>
    canSpike(instrument) ? createJumpWatch(instrument) : undefined,
  )
  const still = createStillWatch(plant, (leaf) => {
    const reading = latest[leaf]
    if (!reading || reading.quality === 'bad') return undefined
    return { value: reading.value, scatter: scatters[leaf]?.deviation() ?? 0 }
  })
  /** A reading came since its worth was last worked out: a fast instrument sends many between two ticks. */
  const isFresh = new Uint8Array(instruments.length)
  let verdict: Verdict | undefined
  let said: string | undefined
  const leafOf = new Map(instruments.map(({ id }, leaf) => [id, leaf]))

  function take(reading: Reading): readonly Reading[] {
    const leaf = leafOf.get(reading.instrument)
    if (leaf === undefined || reading.late) return [reading]
    const watch = jumps[leaf]
    if (!watch) {
      accept(leaf, reading)
      return [reading]
    }
    const { readings, isStep } = watch.take(reading)
    if (isStep) scatters[leaf]?.restart()
    for (const one of readings) if (!one.spike) accept(leaf, one)
    return readings
  }

  function accept(leaf: number, reading: Reading): void {
    const { measuredAt, value, quality } = reading
    const known = latest[leaf]
    const scatter = scatters[leaf]
    if (known && measuredAt - known.measuredAt > 10 * instruments[leaf]!.staleAfterMs) scatter?.clear()
    latest[leaf] = reading
    isFresh[leaf] = 1
    if (quality === 'good') scatter?.add(measuredAt, value)
    if (quality === 'bad') return
    onValue(leaf, measuredAt, value)
    still.take(leaf, reading)
  }

  function remarks(leaf: number): string[] {
    const against = verdict?.instruments.includes(instruments[leaf]!.id) ? said : undefined
    return [jumps[leaf]?.waiting()?.reason, still.reason(leaf), against].filter((one) => one !== undefined)
  }

  function suspicions(): string[] {
    const frozen = instruments.flatMap(({ name }, leaf) => {
      const reason = still.reason(leaf)
      return reason === undefined ? [] : [`${name} ${reason}.`]
    })
    return [...(verdict ? [verdict.sentence] : []), ...frozen]
  }

  function worthOf(leaf: number, value: number): LeafUncertainty {
    const { limits, isRectangular, resolution } = instrumentUncertainty(instruments[leaf]!, value)
    const scatter = scatters[leaf]
    return {
      limits,
      isRectangular,
      resolution,
      scatter: scatter?.deviation() ?? 0,
      freedom: scatter?.freedom() ?? 1,
    }
  }

  function memory(): IntakeMemory {
    return Object.fromEntries(
      instruments.map(({ id }, leaf) => [
        id,
        {
          latest: latest[leaf],
          scatter: scatters[leaf]?.memory(),
          jumps: jumps[leaf]?.memory(),
          still: still.memory(leaf),
        },
      ]),
    )
  }

  function restore(known: IntakeMemory): void {
    for (const [id, one] of Object.entries(known)) {
      const leaf = leafOf.get(id)
      if (leaf === undefined) continue
      latest[leaf] = one.latest
      isFresh[leaf] = one.latest ? 1 : 0
      if (one.scatter) scatters[leaf]?.restore(one.scatter)
      if (one.jumps) jumps[leaf]?.restore(one.jumps)
      still.restore(leaf, one.still)
    }
  }

  return {
    take,
    memory,
    restore,
    latest: (leaf) => latest[leaf],
    readings: () => latest.filter((reading) => reading !== undefined),
    waiting: (leaf) => jumps[leaf]?.waiting(),
    remarks,
    suspicions,
    setVerdict(next) {
      verdict = next
      said = next && saidOf(next, plant.site.timeZone)
    },
    news(leaf) {
      if (isFresh[leaf] === 0) return undefined
      isFresh[leaf] = 0
      return worthOf(leaf, latest[leaf]!.value)
    },
  }
}
