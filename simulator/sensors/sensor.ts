import type { Instrument } from '../../server/plant/plant.ts'
import { fromSi } from '../../server/wire/units.ts'
import { createRandom, normal, type Random } from '../random.ts'
import { type SensorOutput, sensorFaults } from './faults.ts'

/** One instrument: turns the true value into what it would send. */
export interface Sensor {
  readonly instrument: Instrument
  /** Name of a fault, or undefined for a sound instrument. */
  setFault(kind: string | undefined): void
  /** @param truth True value and, where it is held, highest value since the sample before [SI]. */
  sample(truth: { value: number; peak?: number }, elapsed: number): SensorOutput
}

export interface SensorOptions {
  seed: number
  plant: string
  /** No error, no noise, no steps. */
  ideal: boolean
}

/** Standard deviation of the noise as a share of the limits of error. */
const NOISE_SHARE = 0.08
/** A normal instrument of a class "95 % within ± a" has a/1.96 as standard deviation. */
const NORMAL_95 = 1.959964

/**
 * A sensor that errs as the plant file states, after the error model in server/derive/instrumentUncertainty.ts: an
 * error drawn once from the whole of the limits, then noise on top of them, then the steps of its resolution.
 */
export function createSensor(instrument: Instrument, { seed, plant, ideal }: SensorOptions): Sensor {
  const random = createRandom(seed, `${plant}/${instrument.id}`)
  const { calibration, distribution } = instrument.accuracy ?? {}
  // One calibration, one place within the limits, whichever instrument is made first.
  const shared =
    calibration === undefined ? random : createRandom(seed, `${plant}/calibration/${calibration}`)
  const place = distribution === 'normal' ? normal(shared) / NORMAL_95 : 2 * shared() - 1
  const distort = ideal || instrument.role?.discrete ? undefined : drawErrors(instrument, random, place)
  let fault: string | undefined
  let first: number | undefined
  let faultAge = 0
  const read = (si: number) => {
    const value = fromSi(si, instrument.unit)
    return distort ? distort(value) : value
  }
  return {
    instrument,
    setFault(kind) {
      fault = kind
      first = undefined
      faultAge = 0
    },
    sample(truth, elapsed) {
      const reading = {
        value: read(truth.value),
        ...(truth.peak === undefined ? {} : { peak: read(truth.peak) }),
      }
      // A held peak is never below the value that it belongs to.
      if (reading.peak !== undefined) reading.peak = Math.max(reading.peak, reading.value)
      if (fault === undefined) return reading
      faultAge += elapsed
      first ??= reading.value
      return sensorFaults[fault]!({
        reading,
        first,
        elapsed: faultAge,
        span: spanOf(instrument, first),
        random,
      })
    },
  }
}

/** @param place Where the fixed error stands within the limits, −1 … 1. */
function drawErrors(
  { accuracy, range }: Instrument,
  random: Random,
  place: number,
): (value: number) => number {
  const width = range ? range[1] - range[0] : 0
  const fixed = (accuracy?.span ?? 0) * width + (accuracy?.absolute ?? 0)
  const resolution = accuracy?.resolution ?? 0
  return (value) => {
    const limit = Math.abs(value) * (accuracy?.reading ?? 0) + fixed
    const read = value + place * limit + NOISE_SHARE * limit * normal(random)
    return resolution > 0 ? Math.round(read / resolution) * resolution : read
  }
}

function spanOf({ range }: Instrument, reading: number): number {
  return range ? range[1] - range[0] : Math.abs(reading)
}
