/** Residuals are looked at over this many samples, one a second. */
export const WINDOW = 20
/** Fewer say nothing. */
const FEWEST = 15
const BLOCKS = 5

/** The last samples of one residual. */
export interface ResidualWindow {
  /** NaN: the residual has no value at this second. */
  add(residual: number): void
  clear(): void
  /** Undefined while too few samples are in. */
  summary(): { mean: number; variance: number } | undefined
}

/**
 * Mean of the window and the variance of that mean. The variance comes from the means of blocks, so that
 * samples that hang together (a slow meter, a swaying head) do not count as independent, and a residual that still
 * runs away is not taken for a settled one.
 *
 * var(x̄) = s²(block means)/b. Source: method of batch means (from memory).
 */
export function createResidualWindow(): ResidualWindow {
  let samples: number[] = []
  return {
    add(residual) {
      samples.push(residual)
      if (samples.length > WINDOW) samples.shift()
    },
    clear() {
      samples = []
    },
    summary() {
      const known = samples.filter((residual) => !Number.isNaN(residual))
      if (known.length < FEWEST || Number.isNaN(samples.at(-1)!)) return undefined
      const blocks = Array.from({ length: BLOCKS }, (_, i) =>
        meanOf(
          known.slice(Math.floor((i * known.length) / BLOCKS), Math.floor(((i + 1) * known.length) / BLOCKS)),
        ),
      )
      const mean = meanOf(known)
      const squares = blocks.reduce((sum, block) => sum + (block - mean) ** 2, 0)
      return { mean, variance: squares / (BLOCKS - 1) / BLOCKS }
    },
  }
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}
