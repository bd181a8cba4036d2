import type { DerivedNode, Plan } from './plan.ts'

/** The last values of one figure with their times: a straight line through them, or their mean. */
export interface Window {
  /** @param at [ms UTC]; a value that is not newer than the last is left out. */
  add(at: number, value: number): void
  /**
   * Line by least squares. `slope` per second, NaN with fewer than five values or less than half the stretch;
   * `error` is its standard error, s/√Σ(t − t̄)² with s from the residuals on n − 2 degrees of freedom.
   * Source: any text on regression, e.g. Draper & Smith, Applied Regression Analysis, ch. 1 (from memory).
   */
  line(): { slope: number; error: number }
  /** NaN before the first value. */
  mean(): number
  /** All that it knows, to go on with elsewhere. */
  memory(): WindowMemory
  restore(memory: WindowMemory): void
}

export interface WindowMemory {
  times: Float64Array
  values: Float64Array
  count: number
  first: number
}

/** A stretch holds at most this many values; quicker ones are thinned out evenly. */
const MOST = 64
/** A slow instrument's stretch is as long as this many of its values need. */
const FEWEST = 5
/** After a pause of this many stretches what was before tells nothing. */
const LONGEST_PAUSE = 5

export function createWindow(seconds: number): Window {
  const times = new Float64Array(MOST)
  const values = new Float64Array(MOST)
  const stretch = seconds * 1000
  let count = 0
  let first = 0
  let known: { slope: number; error: number } | undefined

  const slot = (i: number) => (first + i) % MOST
  const time = (i: number) => times[slot(i)]!
  const newest = () => time(count - 1)

  function add(at: number, value: number): void {
    if (count > 0) {
      const step = at - newest()
      if (step <= 0 || step < stretch / (MOST - 1)) return
      if (step > LONGEST_PAUSE * stretch && step > LONGEST_PAUSE * usualStep()) count = 0
    }
    if (count === MOST) drop()
    times[slot(count)] = at
    values[slot(count)] = value
    count++
    while (count > FEWEST && at - time(0) > stretch) drop()
    known = undefined
  }

  function usualStep(): number {
    return count < 2 ? Number.POSITIVE_INFINITY : (newest() - time(0)) / (count - 1)
  }

  function drop(): void {
    first = (first + 1) % MOST
    count--
  }

  function line(): { slope: number; error: number } {
    known ??= fitLine()
    return known
  }

  function fitLine(): { slope: number; error: number } {
    if (count < FEWEST || newest() - time(0) < stretch / 2) return { slope: Number.NaN, error: Number.NaN }
    const origin = newest()
    const meanT = average((i) => (time(i) - origin) / 1000)
    const meanY = mean()
    let tt = 0
    let ty = 0
    let yy = 0
    for (let i = 0; i < count; i++) {
      const t = (time(i) - origin) / 1000 - meanT
      const y = values[slot(i)]! - meanY
      tt += t * t
      ty += t * y
      yy += y * y
    }
    const slope = ty / tt
    const residual = Math.max(0, yy - slope * ty)
    return { slope, error: Math.sqrt(residual / (count - 2) / tt) }
  }

  function average(of: (i: number) => number): number {
    let sum = 0
    for (let i = 0; i < count; i++) sum += of(i)
    return sum / count
  }

  function mean(): number {
    return count === 0 ? Number.NaN : average((i) => values[slot(i)]!)
  }

  return {
    add,
    line,
    mean,
    memory: () => ({ times, values, count, first }),
    restore(memory) {
      times.set(memory.times)
      values.set(memory.values)
      count = memory.count
      first = memory.first
      known = undefined
    },
  }
}

/** Figures that look back: the slope or the mean of one other figure over a stretch of time. */
export interface Windows {
  /** Every reading of an instrument counts, not only the one that is latest when figures are computed. */
  take(leaf: number, at: number, value: number): void
  /** For a figure that looks at a derived one: its newest value. */
  feed(node: DerivedNode, at: number, value: number): void
  value(node: DerivedNode): number
  /** Standard error of a slope; 0 for a mean. */
  error(node: DerivedNode): number
  /** The instrument that it looks at, or undefined where it looks at a derived figure. */
  leafOf(node: DerivedNode): number | undefined
  /** By the id of the figure that looks back. */
  memory(): Record<string, WindowMemory>
  restore(memory: Record<string, WindowMemory>): void
}

export function createWindows(plan: Plan): Windows {
  const windows = new Map<number, Window>()
  const byLeaf = new Map<number, Window[]>()
  for (const node of plan.nodes) {
    if (node.kind !== 'derived' || !node.way.window) continue
    const window = createWindow(node.way.window.seconds)
    windows.set(node.index, window)
    const leaf = leafOf(node)
    if (leaf !== undefined) byLeaf.set(leaf, [...(byLeaf.get(leaf) ?? []), window])
  }

  function leafOf(node: DerivedNode): number | undefined {
    const input = plan.nodes[node.inputs[0]!]
    return input?.kind === 'measured' ? input.leaf : undefined
  }

  return {
    take(leaf, at, value) {
      for (const window of byLeaf.get(leaf) ?? []) window.add(at, value)
    },
    feed(node, at, value) {
      if (leafOf(node) === undefined) windows.get(node.index)!.add(at, value)
    },
    value(node) {
      const window = windows.get(node.index)!
      return node.way.window!.take === 'slope' ? window.line().slope : window.mean()
    },
    error: (node) => (node.way.window!.take === 'slope' ? windows.get(node.index)!.line().error : 0),
    leafOf,
    memory: () =>
      Object.fromEntries(
        [...windows].map(([index, window]) => [plan.nodes[index]!.description.id, window.memory()]),
      ),
    restore(memory) {
      for (const [index, window] of windows) {
        const known = memory[plan.nodes[index]!.description.id]
        if (known) window.restore(known)
      }
    },
  }
}
