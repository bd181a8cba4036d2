import type { Instrument } from '../plant/plant.ts'

/**
 * Standard uncertainty of one reading from the instrument's stated accuracy (type B, JCGM 100 4.3):
 * limits of error a = |x|·reading + span·(high − low) + absolute; u = a/√3 for rectangular limits (4.3.7),
 * a/1.96 where they are a 95 % interval (4.3.4); resolution δ adds δ/√12 (F.2.2.1).
 *
 * @param value Reading in the instrument's SI unit.
 * @returns u in the SI unit; 0 where the plant file states no accuracy.
 * Source: JCGM 100:2008.
 */
export function instrumentUncertainty({ accuracy, unit, range }: Instrument, value: number): number {
  if (!accuracy) return 0
  const shown = Math.abs((value - unit.offset) / unit.factor)
  const span = range ? range[1] - range[0] : 0
  const limits = shown * (accuracy.reading ?? 0) + span * (accuracy.span ?? 0) + (accuracy.absolute ?? 0)
  const divisor = accuracy.distribution === 'normal' ? 1.96 : Math.sqrt(3)
  return Math.hypot(limits / divisor, (accuracy.resolution ?? 0) / Math.sqrt(12)) * unit.factor
}

/** Readings whose scatter is looked at. */
const WINDOW = 20
/** Too few to say anything about scatter. */
const FEWEST = 5

export interface Scatter {
  add(value: number): void
  clear(): void
  /** Standard deviation of one reading about its moving mean; 0 with fewer than five readings. */
  deviation(): number
  /** Degrees of freedom of `deviation`. */
  freedom(): number
}

/**
 * Scatter of the last readings from successive differences, s² = Σ(xᵢ₊₁ − xᵢ)² / (2(n − 1)), which a slow
 * change of the quantity itself does not inflate.
 *
 * Source: von Neumann et al. 1941, Ann. Math. Statist. 12:153; degrees of freedom about 2(n − 1)/3.
 */
export function createScatter(): Scatter {
  const squares = new Float64Array(WINDOW)
  let count = 0
  let next = 0
  let last = Number.NaN
  let sum = 0
  return {
    add(value) {
      if (!Number.isNaN(last)) {
        const square = (value - last) ** 2
        sum += square - (count === WINDOW ? squares[next]! : 0)
        squares[next] = square
        next = (next + 1) % WINDOW
        count = Math.min(count + 1, WINDOW)
      }
      last = value
    },
    clear() {
      count = 0
      next = 0
      sum = 0
      last = Number.NaN
    },
    deviation: () => (count + 1 < FEWEST ? 0 : Math.sqrt(Math.max(sum, 0) / (2 * count))),
    freedom: () => Math.max(1, (2 * count) / 3),
  }
}
