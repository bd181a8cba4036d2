import { reconcile } from '../../statistics/reconciliation.ts'
import type { AgreementLine, AgreementReply } from '../../wire/agreement.ts'
import { curveFunctions } from '../curves.ts'
import type { Evaluator } from '../evaluate.ts'
import { compileExpression } from '../expression.ts'
import { nodeOf, type Plan } from '../plan.ts'
import { explain } from './causes.ts'
import { describeAgreement } from './describeAgreement.ts'
import type { Finding } from './finding.ts'
import type { HeldRelation } from './heldRelation.ts'
import type { Relation } from './relation.ts'
import { relationsOf } from './relations/index.ts'
import { createResidualWindow } from './residualWindow.ts'
import { createSuppositions } from './supposition.ts'
import { findSuspects, fitReadings, NOBODY, untoldBy } from './suspects.ts'

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
  suspicion: NOBODY,
  fit: undefined,
}

export function createAgreement(plan: Plan, evaluator: Evaluator): Agreement {
  const held = relationsOf(plan.plant).flatMap((relation) => hold(plan, relation))
  const switches = plan.nodes.filter((node) => node.description.discrete)
  const sets = setsOf(plan)
  const suppose = createSuppositions(plan, held)
  let setting = ''
  let sampledAt = Number.NEGATIVE_INFINITY
  let finding: Finding | undefined
  let known: AgreementLine | undefined

  function tick(now: number): void {
    if (now - sampledAt < SAMPLE_MS && now >= sampledAt) return
    sampledAt = now
    forgetOldSetting()
    for (const { node, window } of held) window.add(residualOf(node.index))
    finding = undefined
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

  /** Worked out when somebody asks: to weigh every cause takes a while. */
  function look(): Finding {
    const at = sampledAt
    const judged: HeldRelation[] = []
    const residuals: Finding['residuals'] = []
    for (const one of held) {
      const seen = one.window.summary()
      if (!seen) continue
      judged.push(one)
      const scatter = Math.sqrt(seen.variance)
      residuals.push({
        mean: seen.mean,
        scatter,
        own: Math.hypot(one.share * evaluator.compute(one.measured), scatter),
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
    const suspicion = findSuspects(result, () =>
      explain({ plan, evaluator, suppose, sets, judged, residuals }),
    )
    const likeliest = suspicion.explanations[0]?.cause
    return {
      at,
      judged,
      residuals,
      result,
      suspicion,
      fit: fitReadings(input, untoldBy(likeliest, sets.length)),
    }
  }

  function reply(): AgreementReply {
    finding ??= Number.isFinite(sampledAt) ? look() : NOTHING
    return describeAgreement({ plan, evaluator, held, finding })
  }

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
