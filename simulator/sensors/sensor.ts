import type { Instrument } from '../../server/plant/plant.ts'
import { fromSi } from '../../server/plant/units.ts'
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
/** The fixed errors leave this share of the limits free for noise and resolution. */
const FIXED_SHARE = 0.8

/**
 * A sensor with a gain and an offset error, drawn once inside the limits that the plant file states, plus noise and
 * resolution. All errors together stay inside the limits but for rare noise.
 */
export function createSensor(instrument: Instrument, { seed, plant, ideal }: SensorOptions): Sensor {
  const random = createRandom(seed, `${plant}/${instrument.id}`)
  const distort = ideal || instrument.role?.discrete ? undefined : drawErrors(instrument, random)
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

function drawErrors({ accuracy, range }: Instrument, random: Random): (value: number) => number {
  const width = range ? range[1] - range[0] : 0
  const draw = () => FIXED_SHARE * (2 * random() - 1)
  const gain = 1 + draw() * (accuracy?.reading ?? 0)
  const offset = draw() * ((accuracy?.span ?? 0) * width + (accuracy?.absolute ?? 0))
  const resolution = accuracy?.resolution ?? 0
  return (value) => {
    const limit =
      Math.abs(value) * (accuracy?.reading ?? 0) + (accuracy?.span ?? 0) * width + (accuracy?.absolute ?? 0)
    const read = value * gain + offset + NOISE_SHARE * limit * normal(random)
    return resolution > 0 ? Math.round(read / resolution) * resolution : read
  }
}

function spanOf({ range }: Instrument, reading: number): number {
  return range ? range[1] - range[0] : Math.abs(reading)
}
