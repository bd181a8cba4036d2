import type { Instrument } from '../../plant/plant.ts'
import { type Weighing, weigh } from '../../statistics/reconciliation.ts'
import { toSi } from '../../wire/units.ts'
import type { Evaluator } from '../evaluate.ts'
import { instrumentUncertainty } from '../instrumentUncertainty.ts'
import type { Plan } from '../plan.ts'
import type { HeldRelation, JudgedResidual } from './heldRelation.ts'
import type { Readings, Suppositions } from './supposition.ts'

export interface Seen {
  plan: Plan
  evaluator: Evaluator
  suppose: Suppositions
  /** Instruments that err together have one number. */
  sets: readonly number[]
  judged: readonly HeldRelation[]
  residuals: readonly JudgedResidual[]
}

/** The judged residuals as they would be, with how they scatter together, were some readings otherwise. */
export interface ResidualModel {
  instruments: readonly Instrument[]
  /** Present reading [SI]. */
  reading(leaf: number): number
  /** What it can read [SI]; no end where the plant file gives no range. */
  rangeOf(leaf: number): readonly [low: number, high: number]
  /** Whether an instrument has a part in any judged relation. */
  touches(leaf: number): boolean
  /** A small change of its reading [SI]: one standard uncertainty where its class is stated. */
  stepOf(leaf: number): number
  /** Means of the window, moved by what other readings make of the present ones. */
  residualsAt(readings: Readings): number[]
  /** Change of the residuals for a change of one reading by `step`, as a mean of both sides. */
  changeOf(readings: Readings, leaf: number, step: number): number[]
  /** Undefined where the covariance is singular. */
  weighAt(readings: Readings): Weighing | undefined
}

/** Step where nothing is stated of an instrument: this share of its range or reading. */
const SMALL = 1e-4

export function createResidualModel(seen: Seen): ResidualModel {
  const { plan, evaluator, suppose, judged, residuals, sets } = seen
  const { instruments } = plan.plant
  const column = evaluator.column()
  const at = (readings: Readings) => suppose.residuals(column, readings, judged)
  const now = at([])
  const reached = instruments.map(
    ({ role }, leaf) => !Number.isNaN(column[leaf]!) && !role?.discrete && suppose.reaches(leaf, judged),
  )
  const readingIn = (readings: Readings, leaf: number) =>
    readings.find(([other]) => other === leaf)?.[1] ?? column[leaf]!

  function uncertaintyOf(leaf: number, value: number): number {
    const { limits, resolution } = instrumentUncertainty(instruments[leaf]!, value)
    return Math.hypot(limits, resolution)
  }

  function rangeOf(leaf: number): readonly [number, number] {
    const { range, unit } = instruments[leaf]!
    return range ? [toSi(range[0], unit), toSi(range[1], unit)] : [-Infinity, Infinity]
  }

  function stepOf(leaf: number): number {
    const [low, high] = rangeOf(leaf)
    const size = Number.isFinite(high - low) ? high - low : Math.abs(column[leaf]!)
    return uncertaintyOf(leaf, column[leaf]!) || SMALL * size || SMALL
  }

  function changeOf(readings: Readings, leaf: number, step: number): number[] {
    const others = readings.filter(([other]) => other !== leaf)
    const x = readingIn(readings, leaf)
    const here = at(readings)
    const up = at([...others, [leaf, x + step]])
    const down = at([...others, [leaf, x - step]])
    return here.map((middle, i) => {
      const [above, below] = [up[i]! - middle, middle - down[i]!]
      // At the end of a curve the side that is left tells the slope.
      if (Number.isNaN(above)) return Number.isNaN(below) ? 0 : below
      return Number.isNaN(below) ? above : (above + below) / 2
    })
  }

  function weighAt(readings: Readings): Weighing | undefined {
    const measured = suppose.measured(column, readings, judged)
    const contributions = judged.map(() => new Float64Array(instruments.length))
    for (const leaf of instruments.keys()) {
      const u = reached[leaf] ? uncertaintyOf(leaf, readingIn(readings, leaf)) : 0
      if (u > 0) for (const [i, part] of changeOf(readings, leaf, u).entries()) contributions[i]![leaf] = part
    }
    const ownVariances = judged.map(
      ({ share }, i) => (share * measured[i]!) ** 2 + residuals[i]!.scatter ** 2,
    )
    return weigh({ contributions, sets, ownVariances })
  }

  return {
    instruments,
    reading: (leaf) => column[leaf]!,
    rangeOf,
    touches: (leaf) => reached[leaf]!,
    stepOf,
    changeOf,
    weighAt,
    residualsAt(readings) {
      const supposed = at(readings)
      return residuals.map(({ mean }, i) => mean + supposed[i]! - now[i]!)
    },
  }
}
