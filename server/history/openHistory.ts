import type { Clock } from '../clock.ts'
import { type EmbeddedStore, embeddedStore } from './stores/embedded.ts'

export interface HistoryOptions {
  folder: string
  clock: Clock
  /** How long single samples are kept [days]. */
  rawDays?: number
  /** How long roll-ups of one minute are kept [days], not shorter than `rawDays`. */
  minuteDays?: number
  /** How long roll-ups of one hour are kept [days], not shorter than `minuteDays`. */
  hourDays?: number
  /** Beyond this the oldest samples are removed, then the oldest minutes [GB]. */
  largestGb?: number
  /** With less than this free on the disk no more samples are stored [MB]. */
  leastFreeMb?: number
  /** Buffers of the storage engine [MB]; the process needs about 100 MB more. */
  memoryMb?: number
  /** Samples sorted at once; a day with more of them goes into several files. 20 M take about 0.5 GB of disk. */
  rowsPerFile?: number
  /** Rows that wait in memory while the disk does not take them. */
  pendingLimit?: number
  /** A query that runs longer is stopped [ms]. */
  queryTimeoutMs?: number
  onNotice?: (sentence: string) => void
}

/**
 * The history of this machine, not open yet, with every default in one place.
 *
 * @throws {RangeError} when a coarser tier would be kept for a shorter time than a finer one.
 */
export function openHistory({
  folder,
  clock,
  rawDays = 400,
  minuteDays = 3_650,
  hourDays = Number.POSITIVE_INFINITY,
  largestGb = 20,
  leastFreeMb = 500,
  memoryMb = 256,
  rowsPerFile = 20_000_000,
  pendingLimit = 500_000,
  queryTimeoutMs = 10_000,
  onNotice = () => {},
}: HistoryOptions): EmbeddedStore {
  if (!(rawDays >= 1 && rawDays <= minuteDays && minuteDays <= hourDays))
    throw new RangeError(
      `history: samples are kept ${rawDays} days, minutes ${minuteDays} and hours ${hourDays}; ` +
        'expected at least 1 day, and a coarser tier not shorter than a finer one',
    )
  return embeddedStore({
    folder,
    clock,
    retentionDays: { raw: rawDays, minute: minuteDays, hour: hourDays },
    limits: { memoryMb, threads: 2, temporaryMb: 2_048, journalMb: 16 },
    rowsPerFile,
    largestBytes: largestGb * 1e9,
    leastFreeBytes: leastFreeMb * 1e6,
    sealAfterMs: 15 * 60_000,
    queryTimeoutMs,
    commitMs: 1_000,
    maintainMs: 10 * 60_000,
    pendingLimit,
    onNotice,
  })
}
