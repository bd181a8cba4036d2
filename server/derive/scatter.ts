import type { Role } from '../plant/roles.ts'

/** Readings whose scatter is looked at. */
const SCATTER_WINDOW = 20
/** Fewer readings of one level say nothing of their scatter. */
const FEWEST_FOR_SCATTER = 6
/** Residuals beyond this many of the robust standard deviation are of a corner or a step, not of the scatter. */
const REJECT = 5
/** Median of |normal deviate|. */
const MEDIAN_OF_NORMAL = 0.674_489_750_196

/** How much the readings of one instrument scatter. */
export interface Scatter {
  /** Takes a good reading. @param at Time of measurement [ms UTC]. */
  add(at: number, value: number): void
  /** The quantity jumped to another level: what was known counts until enough is seen of the new one. */
  restart(): void
  /** After a long silence nothing is known. */
  clear(): void
  /** Standard deviation of one reading about its own course; 0 while too little is known. */
  deviation(): number
  /** Degrees of freedom of `deviation`. */
  freedom(): number
  /** All that it knows, to go on with elsewhere. */
  memory(): ScatterMemory
  restore(memory: ScatterMemory): void
}

export interface ScatterMemory {
  times: Float64Array
  values: Float64Array
  count: number
  next: number
  kept: Known
}

/**
 * Scatter of the newest readings about their own course, whatever that is: each reading is held against the straight
 * line between its two neighbours,
 *
 *   e_i = w·x_(i−1) + (1 − w)·x_(i+1) − x_i,   w = (t_(i+1) − t_i)/(t_(i+1) − t_(i−1)),   r_i = e_i/√(w² + (1−w)² + 1)
 *
 * so that a start or a run-down does not count as scatter. Of these, r beyond 5·median|r|/0.6745 are left out (Hampel's
 * identifier), the others give s² = mean r². A spike touches three r, a step two, a corner one: they do not inflate s.
 *
 * Neighbouring r hang together (for even times by −2/3 and 1/6), hence ν = n/(1 + 8/9·(1 − 1/n) + 1/18·(1 − 2/n)) of n
 * residuals. With a normal scatter the cut at 5 leaves s² and ν as they are within 1 % and 3 % (Monte Carlo in
 * test/reference/scatter.test.ts).
 *
 * Limits: readings that hang together from one to the next (a damped sensor) scatter more than this shows.
 * Sources: residuals Gasser, Sroka & Jennen-Steinmetz 1986, Biometrika 73:625; rejection Hampel 1974, J. Am. Stat.
 * Assoc. 69:383, and Davies & Gather 1993, ibid. 88:782; ν by equal mean and variance of a quadratic form, Box 1954,
 * Ann. Math. Stat. 25:290 (all from memory).
 */
export function createScatter(): Scatter {
  const times = new Float64Array(SCATTER_WINDOW)
  const values = new Float64Array(SCATTER_WINDOW)
  let count = 0
  let next = 0
  let kept: Known = NOTHING
  let known: Known | undefined

  function look(): Known {
    known ??= count < FEWEST_FOR_SCATTER ? kept : estimate(ordered())
    return known
  }

  /** Oldest first. */
  function ordered(): Float64Array {
    const first = (next - count + SCATTER_WINDOW) % SCATTER_WINDOW
    for (let i = 0; i < count - 2; i++) residuals[i] = residualAt((first + i) % SCATTER_WINDOW)
    return residuals.subarray(0, count - 2)
  }

  /** Size of the residual of the reading after the one in this place. */
  function residualAt(before: number): number {
    const here = (before + 1) % SCATTER_WINDOW
    const after = (before + 2) % SCATTER_WINDOW
    const span = times[after]! - times[before]!
    const w = span > 0 ? (times[after]! - times[here]!) / span : 0.5
    // By differences, so that equal readings leave nothing of rounding.
    const apart = w * (values[before]! - values[here]!) + (1 - w) * (values[after]! - values[here]!)
    return Math.abs(apart) / Math.sqrt(w * w + (1 - w) * (1 - w) + 1)
  }

  return {
    add(at, value) {
      times[next] = at
      values[next] = value
      next = (next + 1) % SCATTER_WINDOW
      count = Math.min(count + 1, SCATTER_WINDOW)
      known = undefined
    },
    restart() {
      kept = look()
      count = 0
      known = undefined
    },
    clear() {
      kept = NOTHING
      count = 0
      known = undefined
    },
    deviation: () => look().deviation,
    freedom: () => look().freedom,
    memory: () => ({ times, values, count, next, kept }),
    restore(memory) {
      times.set(memory.times)
      values.set(memory.values)
      count = memory.count
      next = memory.next
      kept = memory.kept
      known = undefined
    },
  }
}

interface Known {
  deviation: number
  freedom: number
}

const NOTHING: Known = { deviation: 0, freedom: 1 }
/** Work space of all. */
const residuals = new Float64Array(SCATTER_WINDOW - 2)

/** @param sizes |r|; they come back sorted. */
function estimate(sizes: Float64Array): Known {
  sortFew(sizes)
  const limit = REJECT * Math.max(medianOfSorted(sizes) / MEDIAN_OF_NORMAL, smallestAboveZero(sizes))
  let squares = 0
  let n = 0
  while (n < sizes.length && sizes[n]! <= limit) squares += sizes[n++]! ** 2
  const hangingTogether = 1 + (8 / 9) * (1 - 1 / n) + (1 / 18) * Math.max(0, 1 - 2 / n)
  return { deviation: Math.sqrt(squares / n), freedom: Math.max(1, n / hangingTogether) }
}

/** By insertion: for a score of values quicker than the general way. */
function sortFew(sizes: Float64Array): void {
  for (let i = 1; i < sizes.length; i++) {
    const one = sizes[i]!
    let place = i
    for (; place > 0 && sizes[place - 1]! > one; place--) sizes[place] = sizes[place - 1]!
    sizes[place] = one
  }
}

function medianOfSorted(sizes: Float64Array): number {
  const middle = sizes.length >> 1
  return sizes.length % 2 === 1 ? sizes[middle]! : (sizes[middle - 1]! + sizes[middle]!) / 2
}

/** Where most readings repeat each other, their steps are those of an instrument that rounds: they are no outliers. */
function smallestAboveZero(sizes: Float64Array): number {
  return sizes.find((one) => one > 0) ?? 0
}

/** A switch does not scatter, and the steps of a meter that counts up are no scatter. */
export function hasScatter(role: Role | undefined): boolean {
  return !role?.discrete && !role?.counter
}
