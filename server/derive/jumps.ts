import type { Reading } from '../ingest/reading.ts'
import type { Instrument } from '../plant/plant.ts'
import { fromSi } from '../wire/units.ts'
import { errorLimits, limitAt } from './instrumentUncertainty.ts'

/**
 * Tells a spike from a step, by the readings of one instrument alone.
 *
 * A reading that lies further from the one before than this instrument ever moves is held back until the next one: back
 * where it was before, the one reading was a spike and goes into no figure; away from there too, the change is real and
 * both count. Until then the figure stays at the reading before, and says so. This is for figures and what follows from
 * them; over-speed and every other alarm of the raw path are judged before (alarms/board.ts).
 *
 * "Further than it ever moves" is all of: 8 × the median size of the last 20 steps from reading to reading; 3 × the last
 * step (a movement goes on); 3 × its resolution; 2 × its limits of error; 1 % of the reading; 0.5 % of the range. So a jump
 * that its class allows is never held back, and a spike of that size is not seen.
 *
 * Sources: Hampel 1974, J. Am. Stat. Assoc. 69:383 (a median of sizes as the scale, from memory); the second reading that
 * confirms is common practice, no source, and so are the factors.
 */
export interface JumpWatch {
  /** What the reading settles, oldest first: nothing where it has to wait for the next one. */
  take(reading: Reading): Settled
  /** The newest reading where it waits, as it counts if none follows, and what is said of it meanwhile. */
  waiting(): { reading: Reading; reason: string } | undefined
  /** All that it knows, to go on with elsewhere. */
  memory(): JumpMemory
  restore(memory: JumpMemory): void
}

export interface JumpMemory {
  known: Reading | undefined
  doubtful: Reading | undefined
  doubts: number
  steps: StepsMemory
}

interface StepsMemory {
  sizes: Float64Array
  count: number
  next: number
  last: number
}

export interface Settled {
  /** A reading that was a spike has `spike`. */
  readings: readonly Reading[]
  /** The quantity is at another level now, or moves as it did not before. */
  isStep: boolean
}

/** Steps from reading to reading that are looked at, and how few say nothing of how an instrument moves. */
const STEPS = 20
const FEWEST_STEPS = 5
const TIMES_USUAL = 8
const TIMES_LAST = 3
const TIMES_RESOLUTION = 3
const TIMES_LIMITS = 2
const SHARE_OF_READING = 0.01
const SHARE_OF_RANGE = 0.005
/** Readings in a row that may be held back: what jumps about wildly is what there is. */
const MOST_DOUBTS = 2

/** Whether one reading alone may be doubted: it has a size, comes regularly, and cannot come and go between two others. */
export function canSpike({ role, periodic, unit }: Instrument): boolean {
  // Of a plain number without a role nobody knows whether it is a switch.
  if (!role) return periodic && unit.print !== ''
  return periodic && !role.discrete && !role.counter && !role.bursts
}

export function createJumpWatch(instrument: Instrument): JumpWatch {
  const floor = floorOf(instrument)
  const usual = createSteps()
  /** The last reading that counts. */
  let known: Reading | undefined
  let doubtful: Reading | undefined
  let doubts = 0

  function take(reading: Reading): Settled {
    if (reading.quality === 'bad') return alone(reading)
    if (reading.ageUnknown || !known || reading.measuredAt <= known.measuredAt || isLongAfter(reading))
      return beginAt(reading)
    const isFar = isJump(reading)
    if (doubtful) return isFar ? goOn(known, doubtful, reading) : goBack(doubtful, reading)
    if (!isFar) return accept(reading)
    doubtful = reading
    doubts = 1
    return NOTHING_SETTLED
  }

  /** Nothing to compare it with: what waits is let through as it is. */
  function beginAt(reading: Reading): Settled {
    const readings = doubtful ? [neverConfirmed(doubtful, instrument), reading] : [reading]
    if (reading.ageUnknown || !known || reading.measuredAt !== known.measuredAt) usual.pause()
    known = reading.ageUnknown ? undefined : reading
    doubtful = undefined
    return { readings, isStep: false }
  }

  function isLongAfter({ measuredAt }: Reading): boolean {
    return measuredAt - (doubtful ?? known!).measuredAt > instrument.staleAfterMs
  }

  function isJump({ value }: Reading): boolean {
    const apart = Math.abs(value - known!.value)
    return apart > floor(known!.value) && usual.isBeyond(apart)
  }

  function accept(reading: Reading): Settled {
    usual.add(Math.abs(reading.value - known!.value))
    known = reading
    return alone(reading)
  }

  function goBack(spike: Reading, reading: Reading): Settled {
    const marked = spikeOf(spike, known!, instrument)
    doubtful = undefined
    accept(reading)
    return { readings: [marked, reading], isStep: false }
  }

  /** The second reading is away from the old level too: to the same side it confirms a change. */
  function goOn(before: Reading, first: Reading, second: Reading): Settled {
    const [up, on] = [first.value - before.value, second.value - before.value]
    if (up * on < 0 && doubts < MOST_DOUBTS) {
      doubtful = second
      doubts++
      return { readings: [spikeOf(first, before, instrument)], isStep: false }
    }
    // The first may lie on the way to the second or past it; far beyond, it was a spike beside a step.
    const fits = Math.abs(up - on) <= Math.abs(on)
    usual.add(Math.abs(up))
    usual.add(fits || doubts === MOST_DOUBTS ? Math.abs(on - up) : 0)
    known = second
    doubtful = undefined
    return { readings: [fits ? first : spikeOf(first, before, instrument), second], isStep: true }
  }

  return {
    take,
    waiting: () =>
      doubtful && known
        ? {
            reading: neverConfirmed(doubtful, instrument),
            reason: `jumped to ${amount(doubtful.value, instrument)}, not confirmed yet`,
          }
        : undefined,
    memory: () => ({ known, doubtful, doubts, steps: usual.memory() }),
    restore(memory) {
      known = memory.known
      doubtful = memory.doubtful
      doubts = memory.doubts
      usual.restore(memory.steps)
    },
  }
}

function alone(reading: Reading): Settled {
  return { readings: [reading], isStep: false }
}

const NOTHING_SETTLED: Settled = { readings: [], isStep: false }

/** Jumps up to this size are never doubted [SI], by the reading before. */
function floorOf(instrument: Instrument): (value: number) => number {
  const { unit, range } = instrument
  // what is only assumed says nothing about how far this one moves
  const stated = instrument.assumed === undefined ? errorLimits(instrument) : undefined
  const fixed = Math.max(
    TIMES_RESOLUTION * (stated?.resolution ?? 0),
    SHARE_OF_RANGE * unit.factor * (range ? range[1] - range[0] : 0),
  )
  return (value) =>
    Math.max(
      fixed,
      SHARE_OF_READING * Math.abs(value - unit.offset),
      stated ? TIMES_LIMITS * limitAt(stated, value) : 0,
    )
}

/** How far an instrument usually moves from one reading to the next. */
function createSteps() {
  const sizes = new Float64Array(STEPS)
  let count = 0
  let next = 0
  let last = 0
  return {
    add(size: number): void {
      sizes[next] = size
      next = (next + 1) % STEPS
      count = Math.min(count + 1, STEPS)
      last = size
    },
    /** The next reading follows on nothing. */
    pause(): void {
      last = 0
    },
    /** Counted instead of sorted: the median is at least size/8 when half of the steps are. */
    isBeyond(size: number): boolean {
      if (count < FEWEST_STEPS || size <= TIMES_LAST * last) return false
      let larger = 0
      for (let i = 0; i < count; i++) if (TIMES_USUAL * sizes[i]! >= size) larger++
      return 2 * larger < count
    },
    memory: (): StepsMemory => ({ sizes, count, next, last }),
    restore(memory: StepsMemory): void {
      sizes.set(memory.sizes)
      count = memory.count
      next = memory.next
      last = memory.last
    },
  }
}

function spikeOf(reading: Reading, before: Reading, instrument: Instrument): Reading {
  const [here, there] = [amount(reading.value, instrument), amount(before.value, instrument)]
  return {
    ...reading,
    quality: 'bad',
    reasons: [...reading.reasons, `a spike: ${here} in one reading alone, ${there} before`],
    spike: true,
  }
}

function neverConfirmed(reading: Reading, instrument: Instrument): Reading {
  const reason = `jumped to ${amount(reading.value, instrument)}, never confirmed`
  return { ...reading, quality: 'uncertain', reasons: [...reading.reasons, reason] }
}

/** As people read it, e.g. "39.1 kW". @param value In SI. */
export function amount(value: number, { unit }: Instrument): string {
  return `${Number(fromSi(value, unit).toPrecision(4))} ${unit.print}`.trim()
}
