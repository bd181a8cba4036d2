import type { Instrument } from '../../plant/plant.ts'
import { dot, type Weighing } from '../../statistics/reconciliation.ts'
import { createResidualModel, type ResidualModel, type Seen } from './residualModel.ts'
import type { Readings } from './supposition.ts'

/** One thing that would explain what does not fit: positions of instruments, or of the relation among those judged. */
export type Cause =
  | { kind: 'instrument'; leaf: number }
  | { kind: 'swapped'; leaves: readonly [number, number] }
  | { kind: 'relation'; place: number }

export interface Explanation {
  cause: Cause
  /** −2·ln(likelihood) at its best, up to a constant that all causes share. */
  deviance: number
  /** What is left of the misfit, Σ of squared residuals in units of their covariance. */
  misfit: number
  /** Of an instrument: how much it reads too high [SI]. */
  error: number
}

/** The covariance is worked out anew where the corrected reading stands, so many times. */
const ROUNDS = 2
const STEPS = 4
const HALVINGS = 5
/** Where the search begins: the best of so many places in the range, for beyond the end of a curve nothing has a slope. */
const PLACES = 12

/**
 * How well each cause explains the residuals, in its best size: one instrument off by any amount (a wrong factor and a
 * shifted zero are one and the same at one operating point), two instruments of one unit in each other's place, or what
 * one relation takes for granted. No instrument is left out for its class; but one whose true value would have to lie
 * outside its range explains only as much as it can within.
 *
 * −2·ln L = min_b r(b)ᵀ·V(b)⁻¹·r(b) + ln|V(b)|, with r and V by the formulas of the relations at the corrected reading.
 *
 * Limits: one cause at a time; errors of instruments and relations as normal.
 * Source: Narasimhan & Mah 1987, AIChE J. 33:1514, generalised likelihood ratio (from memory); here with the relations
 * as they are in place of straight lines.
 */
export function explain(seen: Seen): Explanation[] {
  const model = createResidualModel(seen)
  const { instruments } = model
  const weighing = model.weighAt([])
  if (!weighing) return []
  const leaves = [...instruments.keys()]
  return [
    ...leaves.filter(model.touches).map((leaf) => offBy(model, leaf, weighing)),
    ...leaves.flatMap((a) => leaves.slice(a + 1).flatMap((b) => swapOf(model, [a, b], weighing))),
    ...seen.judged.map((_, place) => brokenAt(model, place, weighing)),
  ]
}

/** One instrument is off: its error is looked for in its range, then by Gauss–Newton steps along the relations. */
function offBy(model: ResidualModel, leaf: number, first: Weighing): Explanation {
  const corrected = (error: number): Readings => [[leaf, model.reading(leaf) - error]]
  let weighing = first
  let error = startOf(model, leaf, (one) => misfitAt(model, corrected(one), first))
  for (let round = 0; round < ROUNDS; round++) {
    error = bestError(model, { leaf, error, weighing, corrected })
    weighing = model.weighAt(corrected(error)) ?? weighing
  }
  const misfit = misfitAt(model, corrected(error), weighing)
  return {
    cause: { kind: 'instrument', leaf },
    deviance: misfit + weighing.logDeterminant,
    misfit,
    error,
  }
}

function startOf(model: ResidualModel, leaf: number, misfitOf: (error: number) => number): number {
  const [low, high] = model.rangeOf(leaf)
  if (!Number.isFinite(high - low)) return 0
  const places = Array.from({ length: PLACES + 1 }, (_, i) => low + (i / PLACES) * (high - low))
  let best = { error: 0, misfit: misfitOf(0) }
  for (const error of places.map((place) => model.reading(leaf) - place)) {
    const misfit = misfitOf(error)
    if (misfit < best.misfit) best = { error, misfit }
  }
  return best.error
}

interface Search {
  leaf: number
  error: number
  weighing: Weighing
  corrected: (error: number) => Readings
}

/** Of least misfit, with the corrected reading within its range. A step that does not help is halved. */
function bestError(model: ResidualModel, { leaf, error: first, weighing, corrected }: Search): number {
  const [low, high] = model.rangeOf(leaf)
  const x = model.reading(leaf)
  const within = (one: number) => Math.min(Math.max(one, x - high), x - low)
  const step = model.stepOf(leaf)
  let error = first
  let misfit = misfitAt(model, corrected(error), weighing)
  for (let i = 0; i < STEPS; i++) {
    const slope = weighing.whiten(model.changeOf(corrected(error), leaf, step))
    const size = dot(slope, slope)
    if (size === 0) break
    let move = (dot(slope, weighing.whiten(model.residualsAt(corrected(error)))) / size) * step
    let next = misfitAt(model, corrected(within(error + move)), weighing)
    for (let k = 0; k < HALVINGS && !(next <= misfit); k++) {
      move /= 2
      next = misfitAt(model, corrected(within(error + move)), weighing)
    }
    if (!(next < misfit)) return error
    error = within(error + move)
    misfit = next
  }
  return error
}

/** Two instruments of one unit, each with the cable or topic of the other; none where that would fit no better. */
function swapOf(model: ResidualModel, leaves: readonly [number, number], present: Weighing): Explanation[] {
  const [a, b] = leaves
  const { instruments, reading, touches } = model
  if (!(touches(a) || touches(b)) || !isAlike(instruments[a]!, instruments[b]!)) return []
  const readings: Readings = [
    [a, reading(b)],
    [b, reading(a)],
  ]
  if (!(misfitAt(model, readings, present) < misfitAt(model, [], present))) return []
  const weighing = model.weighAt(readings)
  if (!weighing) return []
  const misfit = misfitAt(model, readings, weighing)
  return [
    { cause: { kind: 'swapped', leaves }, deviance: misfit + weighing.logDeterminant, misfit, error: 0 },
  ]
}

/** They belong to one part of the plant and send one unit: cables or topics can have been exchanged. */
function isAlike(one: Instrument, other: Instrument): boolean {
  return one.unit.code === other.unit.code && one.role !== undefined && one.role.group === other.role?.group
}

/** What a relation takes for granted does not hold: its residual may be anything. */
function brokenAt(model: ResidualModel, place: number, weighing: Weighing): Explanation {
  const residuals = model.residualsAt([])
  const whitened = weighing.whiten(residuals)
  const signature = weighing.whiten(residuals.map((_, i) => Number(i === place)))
  const misfit = dot(whitened, whitened) - dot(signature, whitened) ** 2 / dot(signature, signature)
  return {
    cause: { kind: 'relation', place },
    deviance: misfit + weighing.logDeterminant,
    misfit,
    error: 0,
  }
}

function misfitAt(model: ResidualModel, readings: Readings, weighing: Weighing): number {
  const whitened = weighing.whiten(model.residualsAt(readings))
  return dot(whitened, whitened)
}
