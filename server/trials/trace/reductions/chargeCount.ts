import { type ErrorLimits, limitAt } from '../../../derive/instrumentUncertainty.ts'
import type { Series } from '../readings.ts'

/** Longer silence is a gap: not counted, and said [ms]. */
const LONGEST_GAP_MS = 5000

/** What went in and out. */
export interface ChargeCount {
  chargeIn: number
  chargeOut: number
  energyIn: number
  energyOut: number
  /** ∫ of the shunt's limit of error while it charges and while it discharges [C]. */
  limitIn: number
  limitOut: number
  /** Counted time and all time [s]. */
  counted: number
  total: number
  /** Net charge so far at each reading [C]. */
  net: number[]
}

/**
 * Charge and energy by the trapezoidal rule between readings of current, with the voltage at that time.
 *
 * Source: definition of charge and energy.
 */
export function countCharge(current: Series, voltage: Series, limits: ErrorLimits): ChargeCount {
  const sum: ChargeCount = {
    chargeIn: 0,
    chargeOut: 0,
    energyIn: 0,
    energyOut: 0,
    limitIn: 0,
    limitOut: 0,
    counted: 0,
    total: 0,
    net: [0],
  }
  const volts = valuesAt(voltage, current.at)
  sum.total = (current.at.at(-1)! - current.at[0]!) / 1000
  for (let i = 1; i < current.at.length; i++) {
    const gap = current.at[i]! - current.at[i - 1]!
    const mean = (volts[i]! + volts[i - 1]!) / 2
    if (gap <= LONGEST_GAP_MS && !Number.isNaN(mean)) {
      const seconds = gap / 1000
      sum.counted += seconds
      for (const { charge, time } of signedParts(current.value[i - 1]!, current.value[i]!, seconds)) {
        const side = charge >= 0 ? 'In' : 'Out'
        sum[`charge${side}`] += Math.abs(charge)
        sum[`energy${side}`] += Math.abs(charge) * mean
        sum[`limit${side}`] += limitAt(limits, charge / time) * time
      }
    }
    sum.net.push(sum.chargeIn - sum.chargeOut)
  }
  return sum
}

/** Charge of a straight line from one current to the next, split where it passes zero. */
function signedParts(a: number, b: number, seconds: number): { charge: number; time: number }[] {
  if (a * b >= 0) return [{ charge: ((a + b) / 2) * seconds, time: seconds }]
  const first = (seconds * a) / (a - b)
  const parts = [
    { charge: (a / 2) * first, time: first },
    { charge: (b / 2) * (seconds - first), time: seconds - first },
  ]
  // a current of 1e-17 A passes zero at the very end
  return parts.filter(({ time }) => time > 0)
}

/** The latest value at or before each time; NaN where it is older than a gap. */
export function valuesAt({ at, value }: Series, times: readonly number[]): number[] {
  let place = -1
  return times.map((time) => {
    while (place + 1 < at.length && at[place + 1]! <= time) place++
    return place < 0 || time - at[place]! > LONGEST_GAP_MS ? Number.NaN : value[place]!
  })
}
