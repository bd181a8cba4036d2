import { NORMAL_95 } from '../statistics/normal.ts'
import { figureOf } from '../wire/amounts.ts'
import type { ManualPointRequest, PointFigure } from '../wire/point.ts'
import type { TrialView } from '../wire/trial.ts'
import { findUnit, isConvertible, toSi, unitOf } from '../wire/units.ts'
import type { PointMethod, RunMethod } from './runMethod.ts'
import type { NewPoint } from './takeStore.ts'
import { readMeans } from './typed/simpleMeans.ts'
import type { TypedValue } from './typed/typedPlan.ts'

/** What somebody typed, and who it was as signed in. */
export interface EntryWish extends ManualPointRequest {
  by: string
}

/** A typed point in SI, or what is wrong with it: bad input is a value. */
type ManualPoint = { point: Omit<NewPoint, 'number'> } | { faults: Fault[] }

/** Reads what somebody typed: a value, its unit and its standard uncertainty for each figure. */
export function readManualPoint(
  { by, measuredBy, figures }: EntryWish,
  method: RunMethod,
  now: number,
): ManualPoint {
  const read = figures.map((entry, i) => readFigure(entry, method.view, `figures.${i}`))
  const faults = read.flatMap((one) => ('fault' in one ? [one.fault] : []))
  const missing = requiredBy(method).filter((id) => !figures.some((one) => one.figure === id))
  for (const id of missing)
    faults.push({ path: 'figures', received: 'nothing', expected: `a value of ${id}, which the trial needs` })
  if (faults.length > 0) return { faults }
  return {
    point: {
      at: now,
      from: now,
      samples: 1,
      origin: 'manual',
      by,
      ...(measuredBy ? { measuredBy } : {}),
      setting: 'entered by hand',
      repeatOf: null,
      figures: read.flatMap((one) => ('figure' in one ? [one.figure] : [])),
      remarks: ['entered by hand'],
    },
  }
}

/** Figures without which a typed point says nothing. */
function requiredBy(method: RunMethod): string[] {
  if (method.takes === 'points') {
    const { view, fit } = method
    return [view.abscissa, view.ordinate, ...Object.values(fit.symbols)]
  }
  const { main, typedPoint } = method.view
  return typedPoint ? [main, typedPoint.figure] : [main]
}

type Fault = { path: string; received: string; expected: string }

/** Reads what was typed to the present state: exactly the figures that the run says are to be typed. */
export function readTypedValues(
  { figures, reading }: ManualPointRequest,
  { view }: PointMethod,
): { typed: TypedValue[] } | { faults: Fault[] } {
  const faults: Fault[] = []
  const typed: TypedValue[] = []
  for (const [i, entry] of figures.entries()) {
    const read = readFigure(entry, view, `figures.${i}`)
    if ('fault' in read) faults.push(read.fault)
    else typed.push({ figure: entry.figure, value: read.figure.mean, u: read.figure.typeB })
  }
  if (reading) {
    const read = readMeans(reading, 'reading')
    if ('fault' in read) faults.push(read.fault)
    else typed.push({ figure: reading.figure, ...read })
  }
  const wanted = view.typed.map((one) => one.figure)
  const isRight =
    wanted.length === typed.length && wanted.every((id) => typed.some((one) => one.figure === id))
  if (faults.length === 0 && !isRight) {
    const received = typed.map((one) => one.figure).join(', ') || 'nothing'
    const expected =
      wanted.length === 0 ? 'nothing: everything is measured here' : `a value of ${wanted.join(', ')}`
    faults.push({ path: 'figures', received, expected })
  }
  return faults.length > 0 ? { faults } : { typed }
}

type ReadFigure = { figure: PointFigure } | { fault: Fault }

function readFigure(
  { figure, value, unit, u = 0 }: ManualPointRequest['figures'][number],
  view: TrialView,
  path: string,
): ReadFigure {
  const known = figureOf(view, figure)
  if (!known) {
    const expected = `one of ${view.figures.map((one) => one.id).join(', ')}`
    return { fault: { path: `${path}.figure`, received: figure, expected } }
  }
  const given = findUnit(unit)
  if (!given || !isConvertible(given, unitOf(known.unit)))
    return { fault: { path: `${path}.unit`, received: unit, expected: `a unit such as ${known.viewUnit}` } }
  const typeB = u * given.factor
  return {
    figure: {
      id: figure,
      mean: toSi(value, given),
      deviation: 0,
      effectiveCount: 1,
      typeA: 0,
      typeB,
      u95: NORMAL_95 * typeB,
      // Whoever read it is an instrument of its own, shared by no other.
      contributions: typeB === 0 ? {} : { [`by hand: ${figure}`]: typeB },
    },
  }
}
