import { constantUnit } from '../plant/constants.ts'
import type { Plant } from '../plant/plant.ts'
import { unitOf } from '../wire/units.ts'
import {
  amountError,
  type ConstantError,
  type CurveWeight,
  constantError,
  curveError,
} from './constantUncertainty.ts'
import { curveUnit } from './curves.ts'
import type { SymbolBinding } from './expression.ts'
import type { CurvePath, Way } from './quantity.ts'

/** A constant that errs, by one and the same error in every figure that uses it. */
export interface DoubtfulConstant {
  /** In the plant file, or words for an amount beside a formula. */
  path: string
  /** Of its value; of a curve, that of its error, which stands at 0. */
  slot: number
  unit: string
  error: ConstantError
}

export interface ConstantSlots {
  /** Values in the order of their slots. */
  values: readonly number[]
  doubtful: DoubtfulConstant[]
  bind(paths: Way['constants']): [string, SymbolBinding][]
  bindAmounts(amounts: Way['amounts']): [string, SymbolBinding][]
  /** Where the error of a curve stands; undefined of one that is exact. */
  curve(path: CurvePath): { slot: number; weight: CurveWeight } | undefined
  /** Positions of those that a way names itself. */
  doubtfulIn(way: Way): number[]
}

/** Slots of the constants that formulas name, from `base` on: one for all formulas that name it, so that its error is one. */
export function createConstantSlots(plant: Plant, base: number): ConstantSlots {
  const values: number[] = []
  const doubtful: DoubtfulConstant[] = []
  const slots = new Map<string, number>()

  function slotOf(
    { path, unit, value }: { path: string; unit: string; value: number },
    errorOf: () => ConstantError | undefined,
  ): number {
    const name = `${path} ${value}`
    const known = slots.get(name)
    if (known !== undefined) return known
    const slot = base + values.length
    values.push(value)
    slots.set(name, slot)
    const error = errorOf()
    if (error) doubtful.push({ path, slot, unit, error })
    return slot
  }

  return {
    values,
    doubtful,
    bind: (paths) =>
      Object.entries(paths ?? {}).map(([symbol, path]) => {
        const constant = { path, unit: constantUnit(path), value: plant.constants.get(path)! }
        const slot = slotOf(constant, () => constantError(plant, path))
        return [symbol, { slots: [slot], dimension: unitOf(constant.unit).dimension }]
      }),
    bindAmounts: (amounts) =>
      Object.entries(amounts ?? {}).map(([symbol, amount]) => {
        const slot = slotOf(amount, () => amountError(amount))
        return [symbol, { slots: [slot], dimension: unitOf(amount.unit).dimension }]
      }),
    curve(path) {
      const found = curveError(plant, path)
      if (!found) return undefined
      const { weight, error } = found
      const unit = weight === 'fixed' ? curveUnit(path) : '1'
      const slot = slotOf({ path, unit, value: 0 }, () => error)
      return { slot, weight }
    },
    doubtfulIn({ constants = {}, amounts = {}, curves = {} }) {
      const beside = Object.values(amounts).map(({ path }) => path)
      const names = new Set([...Object.values(constants), ...Object.values(curves), ...beside])
      return doubtful.flatMap(({ path }, i) => (names.has(path) ? [i] : []))
    },
  }
}
