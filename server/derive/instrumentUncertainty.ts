import type { Instrument } from '../plant/plant.ts'
import { NORMAL_95 } from '../statistics/normal.ts'

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

/** What the plant file states of an instrument, in its SI unit: a(x) = share·|x − zero| + fixed. Plain values. */
export interface ErrorLimits {
  share: number
  /** Where the scale of the unit has its zero, e.g. 273.15 K for an instrument that reads °C. */
  zero: number
  fixed: number
  isRectangular: boolean
  resolution: number
  /** Those that name the same one err together. */
  calibration?: string
}

/** Undefined where the plant file states no accuracy. */
export function errorLimits({ accuracy, unit, range }: Instrument): ErrorLimits | undefined {
  if (!accuracy) return undefined
  const { reading = 0, span = 0, absolute = 0, resolution = 0, distribution, calibration } = accuracy
  const width = range ? range[1] - range[0] : 0
  return {
    share: reading,
    zero: unit.offset,
    fixed: (span * width + absolute) * unit.factor,
    isRectangular: distribution === 'rectangular',
    resolution: resolution * unit.factor,
    ...(calibration === undefined ? {} : { calibration }),
  }
}

/** Half-width of the limits at a value, both in the SI unit. */
export function limitAt({ share, zero, fixed }: ErrorLimits, value: number): number {
  return share * Math.abs(value - zero) + fixed
}

/** What a half-width is divided by to give a standard uncertainty. */
export function divisorOf({ isRectangular }: Pick<ErrorLimits, 'isRectangular'>): number {
  return isRectangular ? Math.sqrt(3) : NORMAL_95
}

/**
 * Standard uncertainties of one reading from what the plant file states (type B).
 *
 * @param value Reading in the instrument's SI unit.
 * Source: JCGM 100:2008 4.3, F.2.2.1.
 */
export function instrumentUncertainty(instrument: Instrument, value: number): InstrumentUncertainty {
  const stated = errorLimits(instrument)
  if (!stated) return NOTHING_STATED
  return {
    limits: limitAt(stated, value) / divisorOf(stated),
    isRectangular: stated.isRectangular,
    resolution: stated.resolution / Math.sqrt(12),
  }
}

const NOTHING_STATED: InstrumentUncertainty = { limits: 0, isRectangular: true, resolution: 0 }
