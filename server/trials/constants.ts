import type { Plan } from '../derive/plan.ts'

/** A constant or curve of the plant file that errs, as a run keeps it. */
export interface MethodConstant {
  /** Name among the contributions. */
  source: string
  path: string
  /** 0 of a curve: the error itself is what stands there. */
  value: number
  unit: string
  /** Half-width in the unit. */
  half: number
  isRectangular: boolean
  calibration?: string
  /** By what standard or practice; absent where the plant file states it. */
  assumed?: string
}

const BEGINNING = 'constant: '

/** Name of a constant among what the parts of an uncertainty come from; no instrument has such an id. */
export function constantSource(path: string): string {
  return BEGINNING + path
}

export function isConstantSource(source: string): boolean {
  return source.startsWith(BEGINNING)
}

export function methodConstants({ doubtful, column }: Plan): MethodConstant[] {
  return doubtful.map(({ path, slot, unit, error }) => {
    const { half, isRectangular, calibration, assumed } = error
    return {
      source: constantSource(path),
      path,
      value: column[slot]!,
      unit,
      half,
      isRectangular,
      ...(calibration === undefined ? {} : { calibration }),
      ...(assumed === undefined ? {} : { assumed }),
    }
  })
}
