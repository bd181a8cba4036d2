import type { Instrument } from '../../plant/plant.ts'
import { NORMAL_95 } from '../../statistics/normal.ts'
import type {
  AgreementLine,
  AgreementReply,
  AgreementSuspect,
  ReconciledInstrument,
  RelationView,
} from '../../wire/agreement.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import { fromSi, unitOf } from '../../wire/units.ts'
import type { Evaluator } from '../evaluate.ts'
import { nodeOf, type Plan } from '../plan.ts'
import type { Explanation } from './causes.ts'
import type { Finding } from './finding.ts'
import type { HeldRelation } from './heldRelation.ts'

/** The relations reduce its uncertainty by less than 1 %: the reconciled reading is the reading. */
const HARDLY_SEEN = 0.99

interface Described {
  plan: Plan
  evaluator: Evaluator
  held: readonly HeldRelation[]
  finding: Finding
}

export function describeAgreement(of: Described): AgreementReply {
  const { plan, finding } = of
  const suspects = finding.suspicion.explanations.map((one) => suspectOf(of, one))
  return {
    ...lineOf(of, suspects),
    at: finding.at,
    suspects,
    relations: of.held.map((one) => relationView(of, one)),
    instruments: plan.plant.instruments.flatMap((_, leaf) => reconciledOf(of, leaf)),
    isExplained: finding.suspicion.isExplained,
    largest: finding.suspicion.largest,
    threshold: Number.isFinite(finding.suspicion.threshold) ? finding.suspicion.threshold : 0,
  }
}

function lineOf({ held, finding }: Described, suspects: AgreementSuspect[]): AgreementLine {
  if (held.length === 0)
    return {
      state: 'notJudged',
      sentence: 'No two instruments of this plant can be held against each other.',
    }
  if (!finding.result)
    return {
      state: 'notJudged',
      sentence: 'Not steady long enough to hold the instruments against each other.',
    }
  const [first, second] = suspects
  const n = finding.judged.length
  if (!first)
    return {
      state: 'agrees',
      sentence: `The instruments agree: ${n} ${n === 1 ? 'comparison holds' : 'comparisons hold'} within what is known of ${n === 1 ? 'it' : 'them'}.`,
    }
  const list = suspects.map(({ name, says }) => `${name} ${says}`).join(', or ')
  if (!finding.suspicion.isExplained)
    return { state: 'suspect', sentence: `No single cause explains what does not fit; nearest: ${list}.` }
  if (!second) return { state: 'suspect', sentence: `${capital(first.name)} ${first.says}.` }
  return { state: 'suspect', sentence: `It cannot be told apart: ${list}.` }
}

function suspectOf({ plan, evaluator, finding }: Described, { cause, error }: Explanation): AgreementSuspect {
  const { instruments } = plan.plant
  if (cause.kind === 'relation') {
    const { relation } = finding.judged[cause.place]!
    return { kind: 'relation', id: relation.id, name: relation.assumes, says: 'does not hold' }
  }
  if (cause.kind === 'swapped') {
    const [a, b] = cause.leaves.map((leaf) => instruments[leaf]!)
    const name = `${nameOf(plan, a!)} and ${lowerFirst(nameOf(plan, b!))}`
    return { kind: 'swapped', id: `${a!.id}, ${b!.id}`, name, says: 'seem to be swapped' }
  }
  const { id, quantity, siUnit } = instruments[cause.leaf]!
  const { index, description } = nodeOf(plan, quantity)!
  const value = evaluator.value(index)
  const share = error / (value - error)
  const isRatio = siUnit.code !== 'K' && Math.abs(share) < 1 && Math.abs(value) > Math.abs(error)
  const size = isRatio ? `${short(Math.abs(share) * 100)} %` : amount(Math.abs(error), description)
  const says = `reads about ${size} ${error > 0 ? 'high' : 'low'}`
  return { kind: 'instrument', id, name: description.name, says }
}

function nameOf(plan: Plan, { quantity }: Instrument): string {
  return nodeOf(plan, quantity)!.description.name
}

function amount(si: number, { viewUnit }: FigureDescription): string {
  const unit = unitOf(viewUnit)
  return `${short(fromSi(si + unit.offset, unit))} ${unit.print}`.trim()
}

function short(value: number): string {
  return String(Number(value.toPrecision(2)))
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1)
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

function relationView({ evaluator, finding }: Described, one: HeldRelation): RelationView {
  const { node, relation } = one
  const { unit, viewUnit } = node.description
  const now = evaluator.view(node.index)
  const place = finding.judged.indexOf(one)
  const measured = now.value === null ? null : evaluator.compute(one.measured)
  const expected = now.value === null ? null : measured! + now.value
  const bare = { at: now.at, quality: now.quality, reasons: now.reasons }
  const base = { id: relation.id, name: relation.name, unit, viewUnit }
  const sides = { measured: { ...bare, value: measured }, expected: { ...bare, value: expected } }
  if (place < 0 || !finding.result)
    return { ...base, ...sides, residual: { ...bare, value: null }, deviate: null }
  const { mean, own } = finding.residuals[place]!
  const u = Math.hypot(own, ...evaluator.contributions(node.index))
  return {
    ...base,
    ...sides,
    // Accuracies of many instruments come together here: a normal interval.
    residual: { ...bare, value: mean, u95: NORMAL_95 * u },
    deviate: mean / u,
  }
}

function reconciledOf({ plan, evaluator, finding }: Described, leaf: number): ReconciledInstrument[] {
  const { result, fit } = finding
  if (!result || !fit || result.remaining[leaf]! > HARDLY_SEEN) return []
  const { id, quantity } = plan.plant.instruments[leaf]!
  const { index, description } = nodeOf(plan, quantity)!
  const { name } = description
  const measured = evaluator.view(index)
  if (measured.value === null) return []
  const u = evaluator.contributions(index)[leaf]!
  return [
    {
      instrument: id,
      figure: quantity,
      name,
      measured,
      reconciled: {
        ...measured,
        value: measured.value + fit.corrections[leaf]! * u,
        u95: NORMAL_95 * fit.remaining[leaf]! * u,
      },
      deviate: result.measurementTests[leaf]!,
    },
  ]
}
