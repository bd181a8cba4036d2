import type { Quality } from '../wire/figure.ts'
import type { SourceDoubt } from './sourceWatch.ts'

/** One measurement after decoding and scaling. */
export interface Reading {
  plant: string
  /** Instrument id in the plant file. */
  instrument: string
  /** Quantity it supplies, e.g. "netHead" or "jetOpen.2". */
  quantity: string
  /** SI unit of the quantity. NaN never occurs: such payloads are faults. */
  value: number
  /** Time of measurement [ms UTC]: from the payload when it carries one and it is believable. */
  measuredAt: number
  receivedAt: number
  quality: Quality
  reasons: string[]
  /** True for a retained message without a time of its own: shown, never integrated, raises no alarm. */
  ageUnknown?: true
  /** True for a reading of an earlier time than the latest: recorded, but not the present value, and no alarm but over-speed. */
  late?: true
  /** True where it came after the figures of its moment had been worked out: they are derived anew (rederive). */
  overdue?: true
  /** Why one cannot be sure that it is of the instrument, or of its time. */
  doubt?: SourceDoubt
  /** It lay far off between two others (derive/jumps.ts): stored as bad, and in no figure. */
  spike?: true
  /** Highest value since the reading before, where the instrument holds its peak. */
  peak?: number
}
