/** A smooth curve through points, of no fixed form, and how well the points know it. */
import { CholeskyDecomposition, inverse, Matrix } from 'ml-matrix'
import type { Random } from './bootstrap.ts'
import { KINKED, type Kink, kinksAbout } from './kinks.ts'

export interface SmoothPoints {
  x: readonly number[]
  y: readonly number[]
  /** What the curve is without its departure g: a straight line, or b₁x + b₂x², which is 0 at x = 0. Default a line. */
  base?: 'line' | 'throughZero'
}

export interface SmoothCurve {
  /** Of the scatter: n − 2. */
  freedom: number
  /** Scatter of one point about the curve. */
  deviation: number
  heightsAt(places: readonly number[]): number[]
  /** Standard uncertainty of each height from scatter and from what the curve may do between the points. */
  scatterAt(places: readonly number[]): number[]
  /** Heights of the same mix of curves through points that have moved a little. */
  heightsThrough(moved: Pick<SmoothPoints, 'x' | 'y'>, places: readonly number[]): number[]
  /** Whole curves at `places`, each as likely as the next. */
  draw(places: readonly number[], wish: DrawWish): Float64Array[]
}

export interface DrawWish {
  count: number
  random: Random
  /** Curves that may have a kink about the top are among them. */
  mayKink: boolean
}

type Kernel = (distance: number) => number

/** Matérn 3/2: a slope that may turn sharply, as at the knee of a part-load curve. */
const rough: Kernel = (d) => (1 + Math.sqrt(3) * d) * Math.exp(-Math.sqrt(3) * d)
/** Matérn 5/2: a steady curvature. */
const even: Kernel = (d) => (1 + Math.sqrt(5) * d + (5 * d * d) / 3) * Math.exp(-Math.sqrt(5) * d)

const KERNELS = [rough, even]
/** Lengths over which the curve bends, of half the range. */
const LENGTHS = [0.3, 0.6, 1.2, 2.4]
/** Variance of g against that of the scatter. */
const RATIOS = [1, 10, 100, 1e3, 1e4, 1e5, 1e6]
/** Half of the weight is shared evenly between the kernels: points away from a knee speak for the smoother one. */
const SHARED = 0.5
const NEGLIGIBLE = 2e-3
const BASES = 2
const TOP_STEPS = 40

/** One stiffness: kernel, length and ratio, and where the slope may jump, and by how much, as a variance in σ². */
interface Stiffness {
  kernel: Kernel
  length: number
  ratio: number
  kink?: Kink
}

/** A curve of one stiffness through the points. */
interface Member extends Stiffness {
  weight: number
  factor: CholeskyDecomposition
  u: number[]
  base: Matrix
  /** (HᵀV⁻¹H)⁻¹. */
  unscaled: Matrix
  coefficients: Matrix
  /** V⁻¹(y − Hb). */
  pulls: Matrix
  /** Least squares left over. */
  squares: number
}

/**
 * Smooth regression:  y = Hb + g(x) + e, with g a Gaussian process of variance ratio·σ² and a Matérn correlation over a
 * length. b and σ have flat and 1/σ weight and are integrated out; kernel, length and ratio count by their likelihood over a
 * grid. Where it is asked for, g may have a kink about the top (a term |x − c| of unknown size and place), which counts by its
 * likelihood likewise. So neither the form of the curve nor its stiffness is chosen and then believed.
 *
 * @param points Abscissas and ordinates, and the base H.
 * @returns Heights, their uncertainty and whole curves; undefined where fewer than two places or three points are given.
 *
 * Limits: equal scatter at all points; n up to some 200 (n³ work). Between points the curve may bend as the points say it
 * bends elsewhere. With few points it is wide, and rightly so.
 * Example: points on a straight line → the line, with the uncertainty of a line where it is all that they show.
 * Source: Rasmussen & Williams 2006, Gaussian Processes for Machine Learning, 2.7 and 5.4; O'Hagan 1978, J. R. Stat. Soc. B
 * 40:1 for the mix (all from memory).
 */
export function smoothThrough(points: SmoothPoints): SmoothCurve | undefined {
  const scale = scaleOf(points)
  const count = points.x.length
  if (!scale || count < BASES + 1) return undefined
  const freedom = count - BASES
  const smooth = KERNELS.map((kernel) =>
    membersOf(
      LENGTHS.flatMap((length) => RATIOS.map((ratio) => ({ kernel, length, ratio }))),
      points,
      scale,
    ),
  )
  const members = sharedOut(smooth, freedom)
  const withKinks = () =>
    sharedOut(
      smooth,
      freedom,
      membersOf(
        kinksAbout(topOf(members, scale)).map((one) => ({ ...one, kernel: even })),
        points,
        scale,
      ),
    )
  const { centre, half } = scale
  const inUnits = (places: readonly number[]) => places.map((place) => (place - centre) / half)
  const heightsAt = (places: readonly number[]) => meanOf(members, inUnits(places), scale)
  return {
    freedom,
    deviation: Math.sqrt(members.reduce((sum, one) => sum + (one.weight * one.squares) / freedom, 0)),
    heightsAt,
    scatterAt(places) {
      const u = inUnits(places)
      const mean = heightsAt(places)
      const variance = places.map(() => 0)
      for (const one of members) {
        const { heights, spread } = spreadAt(one, u, scale)
        heights.forEach((height, i) => {
          variance[i]! += one.weight * ((spread.get(i, i) * one.squares) / freedom + (height - mean[i]!) ** 2)
        })
      }
      return variance.map((one) => Math.sqrt(Math.max(0, one)))
    },
    heightsThrough({ x, y }, places) {
      const moved = members.map((one) => ({ ...fitMember(one, { x, y }, scale)!, weight: one.weight }))
      return meanOf(moved, inUnits(places), scale)
    },
    draw(places, { count: wanted, random, mayKink }) {
      const u = inUnits(places)
      const drawn: Float64Array[] = []
      let share = 0
      for (const one of mayKink ? withKinks() : members) {
        share += one.weight
        const due = Math.round(share * wanted) - drawn.length
        if (due > 0) drawn.push(...drawMember(one, spreadAt(one, u, scale), { due, freedom, random }))
      }
      return drawn
    },
  }
}

interface Scale {
  centre: number
  half: number
  base: (u: number) => [number, number]
}

function scaleOf({ x, base = 'line' }: SmoothPoints): Scale | undefined {
  const [low, high] = [Math.min(...x), Math.max(...x)]
  const [centre, half] = [(low + high) / 2, (high - low) / 2]
  if (!(half > 0)) return undefined
  const share = (u: number) => (centre + half * u) / high
  return { centre, half, base: base === 'line' ? (u) => [1, u] : (u) => [share(u), share(u) ** 2] }
}

function membersOf(all: readonly Stiffness[], points: SmoothPoints, scale: Scale): Member[] {
  return all.map((one) => fitMember(one, points, scale)).filter((one): one is Member => one !== undefined)
}

/** Weights by likelihood, those that count for nothing left out; the kernels share half of it evenly, curves with a kink count by theirs alone. */
function sharedOut(smooth: readonly Member[][], freedom: number, kinked: readonly Member[] = []): Member[] {
  const logarithm = ({ factor, unscaled, squares }: Member) =>
    0.5 * Math.log(determinant2(unscaled)) -
    factor.lowerTriangularMatrix.diagonal().reduce((sum, one) => sum + Math.log(one), 0) -
    (freedom / 2) * Math.log(squares)
  const logarithms = [...smooth, kinked].map((group) => group.map(logarithm))
  const top = Math.max(...logarithms.flat())
  const sums = logarithms.map((group) => group.reduce((sum, one) => sum + Math.exp(one - top), 0))
  const whole = sums.slice(0, smooth.length).reduce((sum, one) => sum + one, 0)
  const count = smooth.reduce((sum, group) => sum + group.length, 0)
  const means = [(1 - KINKED) * (whole / count), KINKED * (sums.at(-1)! / Math.max(1, kinked.length))]
  const bent = means[1]! / (means[0]! + means[1]!)
  const members = [...smooth, kinked].flatMap((group, k) => {
    const share = (1 - SHARED) * (sums[k]! / whole) + SHARED / KERNELS.length
    const own = k < smooth.length ? (1 - bent) * share : bent
    return group.map((one, i) => ({
      ...one,
      weight: (own * Math.exp(logarithms[k]![i]! - top)) / sums[k]!,
    }))
  })
  const kept = members.filter(({ weight }) => weight > NEGLIGIBLE)
  const total = kept.reduce((sum, { weight }) => sum + weight, 0)
  return kept.map((one) => ({ ...one, weight: one.weight / total }))
}

/** Highest place, of half the range. */
function topOf(members: readonly Member[], scale: Scale): number {
  const places = Array.from({ length: 2 * TOP_STEPS + 1 }, (_, i) => i / TOP_STEPS - 1)
  const heights = meanOf(members, places, scale)
  return places[heights.indexOf(Math.max(...heights))]!
}

function determinant2(matrix: Matrix): number {
  return matrix.get(0, 0) * matrix.get(1, 1) - matrix.get(0, 1) * matrix.get(1, 0)
}

function fitMember(stiffness: Stiffness, { x, y }: SmoothPoints, scale: Scale): Member | undefined {
  const u = x.map((value) => (value - scale.centre) / scale.half)
  const variance = covariance(stiffness, u, u)
  for (let i = 0; i < u.length; i++) variance.set(i, i, variance.get(i, i) + 1)
  const factor = new CholeskyDecomposition(variance)
  if (!factor.isPositiveDefinite()) return undefined
  const base = new Matrix(u.map(scale.base))
  const column = Matrix.columnVector([...y])
  const solvedBase = factor.solve(base)
  const unscaled = inverse(base.transpose().mmul(solvedBase))
  const coefficients = unscaled.mmul(solvedBase.transpose().mmul(column))
  const left = Matrix.sub(column, base.mmul(coefficients))
  const pulls = factor.solve(left)
  const size = Math.max(...y.map(Math.abs))
  const squares = Math.max(left.transpose().mmul(pulls).get(0, 0), (1e-9 * size) ** 2)
  return { ...stiffness, weight: 0, factor, u, base, unscaled, coefficients, pulls, squares }
}

/** Of g at two sets of places, in σ². */
function covariance(
  { kernel, length, ratio, kink }: Stiffness,
  a: readonly number[],
  b: readonly number[],
): Matrix {
  const bent = (one: number, other: number) =>
    kink ? kink.size * (Math.abs(one - kink.at) * Math.abs(other - kink.at)) : 0
  return new Matrix(
    a.map((one) => b.map((other) => ratio * kernel(Math.abs(one - other) / length) + bent(one, other))),
  )
}

function meanOf(members: readonly Member[], u: readonly number[], scale: Scale): number[] {
  const base = new Matrix(u.map(scale.base))
  const sum = u.map(() => 0)
  for (const one of members) {
    const heights = Matrix.add(base.mmul(one.coefficients), covariance(one, u, one.u).mmul(one.pulls))
    for (let i = 0; i < u.length; i++) sum[i]! += one.weight * heights.get(i, 0)
  }
  return sum
}

interface Spread {
  heights: number[]
  /** Covariance of the heights, in σ². */
  spread: Matrix
}

function spreadAt(one: Member, u: readonly number[], scale: Scale): Spread {
  const across = covariance(one, u, one.u)
  const base = new Matrix(u.map(scale.base))
  const heights = Matrix.add(base.mmul(one.coefficients), across.mmul(one.pulls)).to1DArray()
  const known = one.factor.solve(across.transpose())
  const open = Matrix.sub(base, across.mmul(one.factor.solve(one.base)))
  const spread = covariance(one, u, u)
    .sub(across.mmul(known))
    .add(open.mmul(one.unscaled).mmul(open.transpose()))
  // Rounding must not leave the two halves different.
  return { heights, spread: Matrix.add(spread, spread.transpose()).mul(0.5) }
}

/** Rounding would leave neighbouring places no room of their own. */
const ROOM = 1e-8

function drawMember(
  { squares }: Member,
  { heights, spread }: Spread,
  { due, freedom, random }: { due: number; freedom: number; random: Random },
): Float64Array[] {
  const places = heights.length
  const most = Math.max(...spread.diagonal())
  for (let i = 0; i < places; i++) spread.set(i, i, spread.get(i, i) + ROOM * most)
  const root = new CholeskyDecomposition(spread).lowerTriangularMatrix.to2DArray()
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
  return Array.from({ length: due }, () => {
    let chi = 0
    for (let i = 0; i < freedom; i++) chi += normal() ** 2
    const sigma = Math.sqrt(squares / chi)
    const z = Float64Array.from({ length: places }, normal)
    return Float64Array.from(heights, (height, i) => {
      const row = root[i]!
      let sum = 0
      for (let j = 0; j <= i; j++) sum += row[j]! * z[j]!
      return height + sigma * sum
    })
  })
}
