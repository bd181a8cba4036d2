import type { Reading } from '../ingest/reading.ts'
import type { FigureValue, Quality } from '../wire/figure.ts'
import type { Accumulated } from './accumulations.ts'
import {
  type Assessment,
  BAD,
  blank,
  GOOD,
  NO_REASONS,
  noNumber,
  type Reason,
  UNCERTAIN,
} from './assessment.ts'
import type { Expression } from './expression.ts'
import { createIntake, type Intake, type IntakeMemory } from './intake.ts'
import { createLikelihood } from './likely.ts'
import type { AccumulatedNode, DerivedNode, MeasuredNode, Plan } from './plan.ts'
import { createPropagation, type Propagation } from './propagation.ts'
import { rhythmOf, staleText, toleranceOf } from './rhythm.ts'
import { createStorageWatch } from './storageWatch.ts'
import { withWhatHangs } from './verdict.ts'
import { createWindows, type WindowMemory } from './windows.ts'

/** Live values of one plant's figures. */
export interface Evaluator extends UncertaintySources, IntakeOffers {
  /** Whether measurements can arrive; topics that are sent only on change go stale without a source. */
  setConnected(connected: boolean): void
  isConnected(): boolean
  /** Those that wait for the next one, as they count if none follows. */
  waiting(): Reading[]
  /** Sets what an accumulated figure stands at; it is seen at the next evaluation. */
  setAccumulated(index: number, accumulated: Accumulated): void
  /** Brings every figure up to `now`; returns the indexes of those that changed. */
  evaluate(now: number): number[]
  view(index: number): FigureValue
  /** SI value; NaN when it cannot be given. */
  value(index: number): number
  quality(index: number): Quality
  at(index: number): number
  /** What a formula over the plan's slots gives now, e.g. one side of a relation. */
  compute(expression: Expression): number
  /** A copy of the plan's slots as they stand. */
  column(): Float64Array
  /** All that it knows of readings before now, to go on with elsewhere. */
  memory(): EvaluatorMemory
  /** Goes on from there, for the instruments and figures that it names. Seen at the next evaluation. */
  restore(memory: EvaluatorMemory): void
}

export interface EvaluatorMemory {
  intake: IntakeMemory
  windows: Record<string, WindowMemory>
}

/** Readings on their way in, and what is said against instruments. */
type IntakeOffers = Pick<Intake, 'take' | 'setVerdict' | 'suspicions' | 'readings'>

/** What the uncertainty of a figure comes from. */
type UncertaintySources = Pick<Propagation, 'contributions' | 'constantParts' | 'systematic' | 'shares'>

const QUALITIES: readonly Quality[] = ['good', 'uncertain', 'bad']

export function createEvaluator(plan: Plan): Evaluator {
  const size = plan.nodes.length
  const column = Float64Array.from(plan.column)
  const at = new Float64Array(size).fill(Number.NaN)
  const quality = new Uint8Array(size).fill(BAD)
  const reasons: (readonly Reason[])[] = Array.from({ length: size }, () => NO_REASONS)
  const accumulated: (Accumulated | undefined)[] = plan.nodes.map(() => undefined)
  const propagation = createPropagation(plan, column)
  const seen = Array.from({ length: size }, () => ({ value: 0, at: 0, grade: -1, said: '' }))
  const hasRhythm = rhythmOf(plan)
  const tolerance = plan.nodes.map((node) => toleranceOf(plan, node))
  const windows = createWindows(plan)
  const intake = createIntake(plan.plant, windows.take)
  const storageWatch = createStorageWatch(plan, {
    value: (index) => (quality[index] === BAD ? Number.NaN : column[index]!),
    error: windows.error,
  })
  const isKnown = (index: number) => quality[index] !== BAD && !Number.isNaN(column[index]!)
  const doubt = createLikelihood(plan, { column, isKnown, expanded: propagation.expanded })
  let connected = true

  function evaluate(now: number): number[] {
    const changed: number[] = []
    storageWatch.reset()
    for (const node of plan.nodes) if (node.kind === 'measured') settle(node.index, measure(node, now))
    for (const node of plan.nodes) {
      if (node.kind === 'measured') holdAgainstOthers(node.index)
      else settle(node.index, node.kind === 'derived' ? derive(node) : recall(node))
      if (isChanged(node.index)) changed.push(node.index)
    }
    return changed
  }

  function settle(index: number, { value, grade, why }: Assessment): void {
    if (Number.isNaN(value)) propagation.clear(index)
    column[index] = value
    quality[index] = grade
    reasons[index] = why
  }

  function holdAgainstOthers(index: number): void {
    const unlikely = isKnown(index) ? doubt(index) : undefined
    if (unlikely === undefined) return
    quality[index] = UNCERTAIN
    reasons[index] = [...reasons[index]!, { of: index, text: unlikely }]
  }

  function measure({ index, leaf, instrument }: MeasuredNode, now: number): Assessment {
    const reading = intake.latest(leaf)
    if (!reading) return blank(BAD, [{ of: index, text: 'no reading yet' }])
    const age = now - Math.min(reading.measuredAt, reading.receivedAt)
    const stale = instrument.periodic ? age > instrument.staleAfterMs || reading.ageUnknown : !connected
    const remarks = intake.remarks(leaf)
    const own = [...reading.reasons, ...remarks].map((text) => ({ of: index, text }))
    const grade = Math.max(QUALITIES.indexOf(reading.quality), remarks.length > 0 ? UNCERTAIN : GOOD)
    at[index] = reading.measuredAt
    const news = intake.news(leaf)
    if (news) propagation.setLeaf(leaf, news)
    return stale
      ? {
          value: reading.value,
          grade: BAD,
          why:
            reading.ageUnknown && instrument.periodic
              ? own
              : [...own, { of: index, text: staleText(age, instrument.periodic) }],
        }
      : { value: reading.value, grade, why: own }
  }

  function derive(node: DerivedNode): Assessment {
    const { index, inputs } = node
    at[index] = oldest(node)
    const lost = inputs.filter((i) => !isKnown(i))
    if (lost.length > 0) return blank(gradeOf(lost), merge(lost))
    const floor = node.valid.find((one) => one.test.evaluate(column) === 0)
    if (floor) return blank(floor.isFault ? BAD : UNCERTAIN, [{ of: index, text: floor.otherwise }])
    const value = node.way.window ? lookBack(node) : node.expression.evaluate(column)
    if (!Number.isFinite(value)) return noNumber(node)
    spreadUncertainty(node)
    column[index] = value
    const added = remarks(node, value)
    const worst = inputs.reduce(
      (sofar, i) => Math.max(sofar, quality[i]!),
      added.length > 0 ? UNCERTAIN : GOOD,
    )
    return { value, grade: worst, why: worst === GOOD ? NO_REASONS : [...merge(inputs), ...added] }
  }

  /** What follows from a figure that means nothing now means nothing either; it is bad only where one of them is. */
  const gradeOf = (lost: readonly number[]) => (lost.some((i) => quality[i] === BAD) ? BAD : UNCERTAIN)

  function lookBack(node: DerivedNode): number {
    const input = node.inputs[0]!
    windows.feed(node, at[input]!, column[input]!)
    return windows.value(node)
  }

  /** A slope is as uncertain as the line through the readings; the error of the instrument cancels out of it. */
  function spreadUncertainty(node: DerivedNode): void {
    if (node.way.window?.take !== 'slope') {
      propagation.propagate(node)
      return
    }
    if (windows.leafOf(node) !== undefined) propagation.setOwn(node.index, windows.error(node))
  }

  /** As good as what it was told, and never better than the figures that it follows from. */
  function recall({ index, inputs }: AccumulatedNode): Assessment {
    const known = accumulated[index]
    at[index] = known?.at ?? Number.NaN
    const lost = inputs.filter((i) => !isKnown(i))
    if (lost.length > 0) return blank(gradeOf(lost), merge(lost))
    if (!known) return blank(BAD, [{ of: index, text: 'nothing counted yet' }])
    const own = known.reasons.map((text) => ({ of: index, text }))
    const grade = QUALITIES.indexOf(known.quality)
    if (Number.isNaN(known.value)) return blank(grade, own)
    propagation.setOwn(index, known.u)
    const worst = inputs.reduce((sofar, i) => Math.max(sofar, quality[i]!), grade)
    return { value: known.value, grade: worst, why: worst === GOOD ? NO_REASONS : [...merge(inputs), ...own] }
  }

  function remarks(node: DerivedNode, value: number): Reason[] {
    const { index, way } = node
    const added: Reason[] = []
    if (way.estimated !== undefined) added.push({ of: index, text: `estimated: ${way.estimated}` })
    for (const storage of node.quantity.steady ?? []) {
      const unsteady = storageWatch.reason(storage)
      if (unsteady !== undefined) added.push({ of: index, text: unsteady })
    }
    for (const { test, otherwise } of node.limits)
      if (test.evaluate(column) === 0) added.push({ of: index, text: otherwise })
    const { possible } = way
    if (possible && (value < possible.low || value > possible.high))
      added.push({ of: index, text: `impossible: check ${possible.suspects}` })
    const unlikely = doubt(index)
    if (unlikely !== undefined) added.push({ of: index, text: unlikely })
    const apart = spread(node.inputs.filter(isTimed))
    if (apart > tolerance[index]!)
      added.push({ of: index, text: `its inputs are ${Math.round(apart / 1000)} s apart` })
    return added
  }

  const isTimed = (index: number) => hasRhythm[index]! && !Number.isNaN(at[index]!)

  function spread(indexes: number[]): number {
    if (indexes.length < 2) return 0
    const times = indexes.map((i) => at[i]!)
    return Math.max(...times) - Math.min(...times)
  }

  /** Time of a derived figure: that of its oldest input; what is sent only on change does not age. */
  function oldest({ inputs }: DerivedNode): number {
    const timed = inputs.filter(isTimed)
    const used = timed.length > 0 ? timed : inputs.filter((i) => !Number.isNaN(at[i]!))
    return used.length === 0 ? Number.NaN : Math.min(...used.map((i) => at[i]!))
  }

  function merge(indexes: readonly number[]): Reason[] {
    const merged: Reason[] = []
    for (const i of indexes)
      for (const reason of reasons[i]!)
        if (!merged.some((one) => one.of === reason.of && one.text === reason.text)) merged.push(reason)
    return merged
  }

  /** Only a figure that is not good needs its reasons compared. */
  function isChanged(index: number): boolean {
    const said = quality[index] === GOOD ? '' : words(index).join()
    const last = seen[index]!
    if (
      Object.is(last.value, column[index]) &&
      Object.is(last.at, at[index]) &&
      last.grade === quality[index] &&
      last.said === said
    )
      return false
    last.value = column[index]!
    last.at = at[index]!
    last.grade = quality[index]!
    last.said = said
    return true
  }

  function words(index: number): string[] {
    return reasons[index]!.map(({ of, text }) =>
      of === index ? text : `${plan.nodes[of]!.description.name.toLowerCase()}: ${text}`,
    )
  }

  function view(index: number): FigureValue {
    const value = column[index]!
    const u95 = Number.isNaN(value) ? 0 : propagation.expanded(index)
    return {
      value: Number.isNaN(value) ? null : value,
      ...(u95 > 0 ? { u95 } : {}),
      at: Number.isNaN(at[index]!) ? null : at[index]!,
      quality: QUALITIES[quality[index]!]!,
      reasons: words(index),
    }
  }

  return {
    ...entriesOf(intake),
    suspicions: () => withWhatHangs(intake.suspicions(), plan.nodes, reasons),
    evaluate,
    view,
    setConnected(isConnected) {
      connected = isConnected
    },
    isConnected: () => connected,
    setAccumulated(index, one) {
      accumulated[index] = one
    },
    waiting: () => plan.plant.instruments.flatMap((_, leaf) => intake.waiting(leaf)?.reading ?? []),
    value: (index) => column[index]!,
    quality: (index) => QUALITIES[quality[index]!]!,
    at: (index) => at[index]!,
    compute: (expression) => expression.evaluate(column),
    column: () => Float64Array.from(column),
    memory: () => ({ intake: intake.memory(), windows: windows.memory() }),
    restore(memory) {
      intake.restore(memory.intake)
      windows.restore(memory.windows)
    },
    ...sourcesOf(propagation),
  }
}

function entriesOf({ take, setVerdict, readings }: Intake): Omit<IntakeOffers, 'suspicions'> {
  return { take, setVerdict, readings }
}

function sourcesOf({ contributions, constantParts, systematic, shares }: Propagation): UncertaintySources {
  return { contributions, constantParts, systematic, shares }
}
