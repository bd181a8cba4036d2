import type { Instrument } from '../plant/plant.ts'
import type { Role } from '../plant/roles.ts'

/**
 * The error model of an instrument, which the plant file's `accuracy` states; the simulator draws its instruments
 * from the same model (simulator/sensors/sensor.ts).
 *
 *   reading = round(truth + r · a(truth) + noise, δ)    a(x) = |x|·reading + (high − low)·span + absolute
 *
 * r belongs to the instrument and stays: nothing is known of it but the limits, so it is uniform in −1 … 1
 * (`rectangular`, JCGM 100 4.3.7; the limits are those of all parts together, hence one r), or normal with 95 % inside
 * −1 … 1 (`normal`, 4.3.4). Instruments that name one `calibration` have one r in common (5.2.2, correlation 1); they
 * state the same distribution. Noise is normal, comes on top of the limits and is not stated but seen in the scatter of
 * the readings (type A). δ is the resolution; rounding adds δ/√12 (F.2.2.1).
 */
export interface InstrumentUncertainty {
  /** Standard uncertainty of r · a in the instrument's SI unit; 0 where the plant file states no limits. */
  limits: number
  isRectangular: boolean
  /** Standard uncertainty from rounding in the SI unit. */
  resolution: number
}

/** 97.5 % point of the normal distribution. */
const NORMAL_95 = 1.959964

/**
 * Standard uncertainties of one reading from what the plant file states (type B).
 *
 * @param value Reading in the instrument's SI unit.
 * Source: JCGM 100:2008 4.3, F.2.2.1.
 */
export function instrumentUncertainty(
  { accuracy, unit, range }: Instrument,
  value: number,
): InstrumentUncertainty {
  if (!accuracy) return NOTHING_STATED
  const shown = Math.abs((value - unit.offset) / unit.factor)
  const span = range ? range[1] - range[0] : 0
  const limits = shown * (accuracy.reading ?? 0) + span * (accuracy.span ?? 0) + (accuracy.absolute ?? 0)
  const isRectangular = accuracy.distribution === 'rectangular'
  return {
    limits: (limits / (isRectangular ? Math.sqrt(3) : NORMAL_95)) * unit.factor,
    isRectangular,
    resolution: ((accuracy.resolution ?? 0) / Math.sqrt(12)) * unit.factor,
  }
}

const NOTHING_STATED: InstrumentUncertainty = { limits: 0, isRectangular: true, resolution: 0 }

/** Readings whose scatter is looked at. */
const WINDOW = 20
/** Too few to say anything about scatter. */
const FEWEST = 5

export interface Scatter {
  add(value: number): void
  clear(): void
  /** Standard deviation of one reading about its moving mean; 0 with fewer than five readings. */
  deviation(): number
  /** Degrees of freedom of `deviation`. */
  freedom(): number
}

/**
 * Scatter of the last readings from successive differences, s² = Σ(xᵢ₊₁ − xᵢ)² / (2(n − 1)), which a slow
 * change of the quantity itself does not inflate.
 *
 * Source: von Neumann et al. 1941, Ann. Math. Statist. 12:153; degrees of freedom about 2(n − 1)/3.
 */
export function createScatter(): Scatter {
  const squares = new Float64Array(WINDOW)
  let count = 0
  let next = 0
  let last = Number.NaN
  let sum = 0
  return {
    add(value) {
      if (!Number.isNaN(last)) {
        const square = (value - last) ** 2
        sum += square - (count === WINDOW ? squares[next]! : 0)
        squares[next] = square
        next = (next + 1) % WINDOW
        count = Math.min(count + 1, WINDOW)
      }
      last = value
    },
    clear() {
      count = 0
      next = 0
      sum = 0
      last = Number.NaN
    },
    deviation: () => (count + 1 < FEWEST ? 0 : Math.sqrt(Math.max(sum, 0) / (2 * count))),
    freedom: () => Math.max(1, (2 * count) / 3),
  }
}

/** A switch does not scatter, and the steps of a meter that counts up are no scatter. */
export function hasScatter(role: Role | undefined): boolean {
  return !role?.discrete && !role?.counter
}
