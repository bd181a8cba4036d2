import { reconcile } from '../../statistics/reconciliation.ts'
import type { AgreementLine, AgreementReply } from '../../wire/agreement.ts'
import { curveFunctions } from '../curves.ts'
import type { Evaluator } from '../evaluate.ts'
import { compileExpression } from '../expression.ts'
import { nodeOf, type Plan } from '../plan.ts'
import { describeAgreement } from './describeAgreement.ts'
import type { Finding, HeldRelation } from './finding.ts'
import type { Relation } from './relation.ts'
import { relationsOf } from './relations/index.ts'
import { createResidualWindow } from './residualWindow.ts'
import { findSuspects, fitReadings } from './suspects.ts'

/** Holds every instrument of one plant against the others. */
export interface Agreement {
  /** Call after every evaluation of the figures; looks once a second. */
  tick(now: number): void
  line(): AgreementLine
  reply(): AgreementReply
}

const SAMPLE_MS = 1000
const NOTHING: Finding = {
  at: 0,
  judged: [],
  residuals: [],
  result: undefined,
  suspicion: { candidates: [], threshold: Number.POSITIVE_INFINITY },
  fit: undefined,
}

export function createAgreement(plan: Plan, evaluator: Evaluator): Agreement {
  const held = relationsOf(plan.plant).flatMap((relation) => hold(plan, relation))
  const switches = plan.nodes.filter((node) => node.description.discrete)
  const sets = setsOf(plan)
  let setting = ''
  let sampledAt = Number.NEGATIVE_INFINITY
  let finding = NOTHING
  let known: AgreementLine | undefined

  function tick(now: number): void {
    if (now - sampledAt < SAMPLE_MS && now >= sampledAt) return
    sampledAt = now
    forgetOldSetting()
    for (const { node, window } of held) window.add(residualOf(node.index))
    finding = look(now)
    known = undefined
  }

  /** A jet or a load that was switched makes another machine: what was seen before does not count. */
  function forgetOldSetting(): void {
    const now = switches.map(({ index }) => evaluator.value(index)).join()
    if (now === setting) return
    setting = now
    for (const { window } of held) window.clear()
  }

  function residualOf(index: number): number {
    return evaluator.quality(index) === 'bad' ? Number.NaN : evaluator.value(index)
  }

  function look(at: number): Finding {
    const judged: HeldRelation[] = []
    const residuals: Finding['residuals'] = []
    for (const one of held) {
      const seen = one.window.summary()
      if (!seen) continue
      judged.push(one)
      residuals.push({
        mean: seen.mean,
        own: Math.hypot(one.share * evaluator.compute(one.measured), Math.sqrt(seen.variance)),
      })
    }
    if (judged.length === 0) return { ...NOTHING, at }
    const input = {
      residuals: residuals.map(({ mean }) => mean),
      sets,
      contributions: judged.map(({ node }) => evaluator.contributions(node.index)),
      ownVariances: residuals.map(({ own }) => own ** 2),
    }
    const result = reconcile(input)
    if (!result) return { ...NOTHING, at }
    const suspicion = findSuspects(result)
    return { at, judged, residuals, result, suspicion, fit: fitReadings(input, suspicion.candidates[0]) }
  }

  const reply = () => describeAgreement({ plan, evaluator, held, finding })
  return {
    tick,
    reply,
    line() {
      if (!known) {
        const { state, sentence } = reply()
        known = { state, sentence }
      }
      return known
    },
  }
}

function hold(plan: Plan, relation: Relation): HeldRelation[] {
  const node = nodeOf(plan, relation.id)
  if (node?.kind !== 'derived') return []
  const measured = compileExpression(relation.measured, node.symbols, curveFunctions(plan.plant, node.way))
  const share = plan.plant.relations[relation.id] ?? relation.share
  return [{ relation, node, measured, share, window: createResidualWindow() }]
}

/** Instruments of one calibration err together. */
function setsOf({ plant }: Plan): number[] {
  const calibrations = plant.instruments.map(({ accuracy }) => accuracy?.calibration)
  return calibrations.map((name, i) => (name === undefined ? i : calibrations.indexOf(name)))
}
