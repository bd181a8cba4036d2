import type { Plant } from '../../plant/plant.ts'
import type { CounterGroup } from '../../wire/replies.ts'
import type { FigureLookupById } from '../lookup.ts'

/** A quantity that is summed up over time and kept across restarts. */
export interface CounterKind {
  id: string
  name: string
  group: CounterGroup
  /** SI unit of the sum; "1" for events. */
  unit: string
  /** The figures that it needs; the first one gives the time of each sample. */
  figures: readonly [string, ...string[]]
  /** What must be given besides. */
  applies?: (counted: CountedPlant) => boolean
  counting: Counting
}

export type Counting =
  /** The integral of a rate. */
  | {
      by: 'integral'
      /** SI rate at this moment; NaN when it cannot be given. */
      rate: (look: Look) => number
      /** The one figure that it is, or the forward part of: its ± is that of the sum. Absent where it is made of several. */
      of?: string
      /** The meter that is believed rather than the integral, and what is its highest rate. */
      meter?: MeterOfKind
      /** Something was assumed, so that it is never certain. */
      isEstimated?: true
    }
  /** The time in which something holds. */
  | { by: 'duration'; holds: (look: Look) => boolean | undefined }
  /** How often something begins. */
  | {
      by: 'events'
      /** Undefined where nobody can tell. @param wasOn Lets the condition end at another limit than it begins at. */
      holds: (look: Look, wasOn: boolean) => boolean | undefined
      /** It must hold this long [ms] to count, and be absent this long [ms] before it can begin again. */
      onMs: number
      offMs: number
      /** Figure whose highest value is kept. */
      peak?: string
    }

export interface MeterOfKind {
  role: string
  /** Path of the constant, e.g. "generator.ratedPower". */
  most: string
}

/** Values of now. */
export interface Look extends Pick<FigureLookupById, 'value' | 'share' | 'has'> {
  /** A constant of the plant file in SI; NaN where it is not given. */
  constant(path: string): number
  /** Whether any known state of a family is on, e.g. "tripped"; undefined while none is known. */
  any(family: string, value?: (figure: string) => number): boolean | undefined
}

/** What a plant has to count. */
export interface CountedPlant {
  plant: Plant
  has(figure: string): boolean
  rated(figure: string): number | undefined
}
