/** What must be remembered of a meter that counts by itself. */
export interface MeterMemory {
  /** Last reading that was taken in [SI]. */
  reading: number
  /** Its time [ms UTC]. */
  at: number
  /** A reading that does not follow from the last one; it needs a second that follows from it. */
  suspect?: { reading: number; at: number }
  /** The last thing worth telling about this meter. */
  note?: MeterNote
}

export interface MeterNote {
  at: number
  text: string
}

export interface MeterTraits {
  /** Highest rate that can be [SI per second]; Infinity where the plant file does not say. */
  most: number
  /** Smallest step [SI]; 0 where not stated. */
  step: number
  /** SI value of 1 in the meter's own unit. */
  unit: number
  /** High end of the meter's range [SI], where it begins again at zero; undefined where not stated. */
  end: number | undefined
}

export interface MeterStep {
  memory: MeterMemory
  /** What was counted [SI], never negative, … */
  increment: number
  /** … since this moment [ms UTC]; null where nothing was. */
  from: number | null
  /** Time [ms UTC] from which on nobody knows what was counted, up to `from`; null where all is known. */
  lostFrom: number | null
}

/** A meter may lag by its own update time [ms]. */
const LAG_MS = 60_000
/** How far above the rated rate a reading is still believed. */
const MARGIN = 1.5
/** A reset leaves a reading below this share of the one before. */
const RESET_SHARE = 0.05
/** A roll-over happens above this share of the end of the range where no rated value tells better. */
const NEAR_END = 0.99

/**
 * What a meter counted between its last reading and this one.
 *
 * A reading that falls, or rises faster than can be, is taken in only when a second one follows from it: a single
 * wrong reading changes nothing. A fall from near the end of the range (or near a power of ten of the meter's unit)
 * to near zero is a roll-over; to below 5 % of the reading before, a reset, since which the meter has counted what
 * it shows; any other fall or jump is a new beginning, and what was counted meanwhile is not known.
 *
 * @param memory Undefined before the first reading, which counts nothing.
 * @param reading In SI.
 * @param at Time of measurement [ms UTC]; a reading that is not newer changes nothing.
 * Source: rules for meters that start again, common practice, no source.
 */
export function readMeter(
  memory: MeterMemory | undefined,
  { reading, at }: { reading: number; at: number },
  traits: MeterTraits,
): MeterStep {
  if (!memory) return { memory: { reading, at }, increment: 0, from: null, lostFrom: null }
  if (at <= memory.at) return { memory, increment: 0, from: null, lostFrom: null }
  const { suspect, ...known } = memory
  const rise = reading - memory.reading
  if (isBelievable(rise, at - memory.at, traits))
    return { memory: { ...known, reading, at }, increment: rise, from: memory.at, lostFrom: null }
  // A step back by the meter's own resolution is rounding: the higher reading stands until it is passed.
  if (rise < 0 && -rise <= 2 * traits.step)
    return { memory: { ...known, at }, increment: 0, from: null, lostFrom: null }
  if (suspect && isBelievable(reading - suspect.reading, at - suspect.at, traits))
    return startAgain(memory, { suspect, reading, at }, traits)
  return { memory: { ...known, suspect: { reading, at } }, increment: 0, from: null, lostFrom: null }
}

function isBelievable(rise: number, elapsedMs: number, { most, step }: MeterTraits): boolean {
  if (rise < 0) return false
  return !Number.isFinite(most) || rise <= (MARGIN * most * (elapsedMs + LAG_MS)) / 1000 + 2 * step
}

/** Two readings in a row say that the meter no longer goes on from where it stood. */
function startAgain(
  before: MeterMemory,
  { suspect, reading, at }: { suspect: { reading: number; at: number }; reading: number; at: number },
  traits: MeterTraits,
): MeterStep {
  const elapsed = at - before.at
  const after = (text: string) => ({ reading, at, note: { at: suspect.at, text } })
  const passed = passedEnd(before.reading, { reading, elapsed }, traits)
  if (passed !== undefined)
    return {
      memory: after('the meter passed the end of its range and began again at zero'),
      increment: passed,
      from: before.at,
      lostFrom: null,
    }
  if (suspect.reading <= RESET_SHARE * before.reading && isBelievable(reading, elapsed, traits))
    return {
      memory: after('the meter was reset to zero; it has counted on from there'),
      increment: reading,
      from: before.at,
      lostFrom: null,
    }
  return {
    memory: after('the meter jumped to another reading; the jump was not counted'),
    increment: reading - suspect.reading,
    from: suspect.at,
    lostFrom: before.at,
  }
}

/** What was counted over the end of the range; undefined where it was not passed. */
function passedEnd(
  before: number,
  { reading, elapsed }: { reading: number; elapsed: number },
  traits: MeterTraits,
): number | undefined {
  const power = nextPower(before / traits.unit) * traits.unit
  const ends =
    traits.end === undefined ? [power] : [wholeRange(traits.end / traits.unit) * traits.unit, power]
  for (const end of ends) {
    const passed = end - before + reading
    const isNear = before <= end && before >= NEAR_END * end && reading <= (1 - NEAR_END) * end
    if (isNear && isBelievable(passed, elapsed, traits)) return passed
  }
  return undefined
}

/** A range up to 9 999 999 goes on with 10 000 000, which is zero again. */
function wholeRange(end: number): number {
  return end >= NEAR_END * nextPower(end) ? nextPower(end) : end
}

function nextPower(amount: number): number {
  return 10 ** Math.ceil(Math.log10(amount))
}
