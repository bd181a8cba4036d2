/** The newest samples of one instrument, in two columns of fixed length: nothing grows, nothing is allocated. */
export interface TraceRing {
  add(at: number, value: number): void
  /** Samples from `from` on, oldest first; with `withState` also the last one before, moved to `from`. */
  since(from: number, withState: boolean): { at: number[]; value: number[] }
}

export function createTraceRing(capacity: number): TraceRing {
  const at = new Float64Array(capacity)
  const value = new Float64Array(capacity)
  let written = 0
  return {
    add(time, sample) {
      at[written % capacity] = time
      value[written % capacity] = sample
      written++
    },
    since(from, withState) {
      const found = { at: [] as number[], value: [] as number[] }
      let before: number | undefined
      for (let i = Math.max(0, written - capacity); i < written; i++) {
        const place = i % capacity
        if (at[place]! < from) before = value[place]!
        else {
          found.at.push(at[place]!)
          found.value.push(value[place]!)
        }
      }
      if (withState && before !== undefined) {
        found.at.unshift(from)
        found.value.unshift(before)
      }
      return found
    },
  }
}
