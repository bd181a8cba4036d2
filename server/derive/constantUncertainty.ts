import { constantUnit } from '../plant/constants.ts'
import type { Plant } from '../plant/plant.ts'
import { unitOf } from '../wire/units.ts'
import { type AssumedError, assumedError } from './assumedErrors.ts'
import { divisorOf } from './instrumentUncertainty.ts'
import type { Amount } from './quantity.ts'

/**
 * The error model of a constant, as that of an instrument without scatter and steps: c = c₀ + r · a, r of the constant,
 * uniform in −1 … 1 or normal with 95 % inside. Every figure that uses the constant errs by the same r, and no averaging
 * reduces it. A curve errs as one: by the same r at all its points.
 */
export interface ConstantError {
  /** Half-width a in the SI unit; of a curve that of its factor in `weigh`. */
  half: number
  /** Standard uncertainty. */
  limits: number
  isRectangular: boolean
  calibration?: string
  /** The source of an assumption; absent where the plant file states the ±. */
  assumed?: string
}

/** How the error of a curve goes with its value: as it is, as a share of the value, or of what is lost. */
export type CurveWeight = 'fixed' | 'share' | 'loss'

/** Undefined for a constant that is exact. */
export function constantError(plant: Plant, path: string): ConstantError | undefined {
  const value = plant.constants.get(path)
  if (value === undefined) return undefined
  const stated = plant.plusMinus.get(path)
  // Zero of a temperature is not that of its scale.
  const size = Math.abs(value - (constantUnit(path) === 'K' ? unitOf('Cel').offset : 0))
  if (stated) {
    const { half, isShare, isRectangular, calibration } = stated
    return error({ half: isShare ? half * size : half, isRectangular, calibration })
  }
  const assumed = assumedError(path, value, plant)
  return assumed && fromAssumed(assumed, (assumed.fixed ?? 0) + (assumed.share ?? 0) * size)
}

/** The same of a curve, with how it goes with the value. */
export function curveError(
  plant: Plant,
  path: string,
): { error: ConstantError; weight: CurveWeight } | undefined {
  const stated = plant.plusMinus.get(path)
  if (stated) {
    const { half, isShare, isRectangular, calibration } = stated
    const found = error({ half, isRectangular, calibration })
    return found && { error: found, weight: isShare ? 'share' : 'fixed' }
  }
  const assumed = assumedError(path, 0, plant)
  const found = assumed && fromAssumed(assumed, assumed.fixed ?? assumed.share ?? assumed.ofLoss ?? 0)
  if (!assumed || !found) return undefined
  return {
    error: found,
    weight: assumed.ofLoss !== undefined ? 'loss' : assumed.share !== undefined ? 'share' : 'fixed',
  }
}

/** Of an amount beside a formula. */
export function amountError({ plusMinus }: Amount): ConstantError | undefined {
  if (!plusMinus) return undefined
  const { fixed, source } = plusMinus
  return error({ half: fixed, isRectangular: true, ...(source === undefined ? {} : { assumed: source }) })
}

/** A point of a curve moved by its error. */
export const CURVE_WEIGHTS: Readonly<Record<CurveWeight, (value: number, error: number) => number>> = {
  fixed: (value, e) => value + e,
  share: (value, e) => value * (1 + e),
  loss: (value, e) => value + (1 - value) * e,
}

function fromAssumed({ isNormal, source }: AssumedError, half: number): ConstantError | undefined {
  return error({ half, isRectangular: !isNormal, assumed: source })
}

function error({
  half,
  isRectangular,
  calibration,
  assumed,
}: {
  half: number
  isRectangular: boolean
  calibration?: string | undefined
  assumed?: string
}): ConstantError | undefined {
  if (!(half > 0)) return undefined
  return {
    half,
    limits: half / divisorOf({ isRectangular }),
    isRectangular,
    ...(calibration === undefined ? {} : { calibration }),
    ...(assumed === undefined ? {} : { assumed }),
  }
}
