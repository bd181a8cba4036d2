/** What a figure may grow by. */
export interface Limit {
  name: string
  unit: string
  perHour: number
  /** Growth over the run that is worth speaking of: below, it comes and goes with what the people do. */
  worth: number
  why: string
}

/**
 * A run has failed where the whole 95 % interval of a slope lies above its limit, and the line has risen by what is worth speaking
 * of. A short run has wide intervals, and can only find what leaks fast.
 */
export const LIMITS: readonly Limit[] = [
  {
    name: 'watch heap',
    unit: 'MB',
    perHour: 6,
    worth: 2,
    why: 'what is held after a collection; a day of it would be 144 MB',
  },
  { name: 'page heap', unit: 'MB', perHour: 6, worth: 2, why: 'the same' },
  { name: 'watch external', unit: 'MB', perHour: 6, worth: 2, why: 'buffers outside the heap' },
  { name: 'page external', unit: 'MB', perHour: 6, worth: 2, why: 'the same' },
  {
    name: 'watch RSS',
    unit: 'MB',
    perHour: 120,
    worth: 30,
    why: 'the history engine fills its buffers, up to its limit of 256 MB, in the first hours',
  },
  { name: 'page RSS', unit: 'MB', perHour: 40, worth: 20, why: 'what the allocator keeps' },
  { name: 'watch handles', unit: '', perHour: 10, worth: 10, why: 'timers and sockets' },
  { name: 'page handles', unit: '', perHour: 20, worth: 15, why: 'the same; a lesson has timers of its own' },
  { name: 'watch descriptors', unit: '', perHour: 10, worth: 8, why: 'files and connections' },
  { name: 'page descriptors', unit: '', perHour: 20, worth: 12, why: 'the same; each viewer is one' },
]
/** Of every queue that health shows: its slope [1/h], and the share of its own limit that is worth speaking of. */
export const QUEUES = { perHour: 200, worthShare: 0.05 }
