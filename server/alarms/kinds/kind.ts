/** How an alarm kind judges one value. Kinds hold no state; delays and life cycle are the same for all. */
export interface AlarmKind {
  id: 'high' | 'low' | 'overSpeed'
  /**
   * @param value SI value of the figure.
   * @param bounds Limit and deadband in SI.
   * @param wasPresent Whether the condition held before: inside the deadband it stays as it was.
   */
  holds(value: number, bounds: Bounds, wasPresent: boolean): boolean
  /** True when `a` is further beyond the limit than `b`. */
  isWorse(a: number, b: number): boolean
  /** Judged on every packet as it arrives, before any filter, delay or derivation. */
  isRaw: boolean
  /** Words between figure and limit, e.g. "at or above". */
  relation: string
}

export interface Bounds {
  limit: number
  deadband: number
}
