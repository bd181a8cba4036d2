import type { FigureNode, Plan } from '../derive/plan.ts'
import type { FigureValue } from '../wire/figure.ts'
import type { MachineState, StateView } from '../wire/plant.ts'

/**
 * Ids of every figure that is hidden with these, until nothing is added: whatever is computed from one of them, since
 * it could be turned back; and the only input of one, which is the same number in another unit or form. Two inputs and
 * more stay in view: whoever is asked to predict must have something to go by. A slope or a mean over time does not
 * give the present value of its input away.
 */
export function concealedWith(plan: Plan, hidden: readonly string[]): Set<string> {
  const concealed = new Set(hidden.filter((id) => plan.indexOf.has(id)))
  let before: number
  do {
    before = concealed.size
    // Inputs come before their use: downwards one pass is enough, upwards a pass from the end.
    for (const node of plan.nodes)
      if (inputsOf(plan, node).some((id) => concealed.has(id))) concealed.add(node.description.id)
    for (const node of plan.nodes.toReversed())
      if (concealed.has(node.description.id)) for (const id of soleInput(plan, node)) concealed.add(id)
  } while (concealed.size > before)
  return concealed
}

function inputsOf(plan: Plan, node: FigureNode): string[] {
  if (node.kind === 'measured') return []
  return [...new Set(node.inputs.map((index) => plan.nodes[index]?.description.id ?? ''))]
}

function soleInput(plan: Plan, node: FigureNode): string[] {
  const isOverTime = node.kind !== 'derived' || node.way.window !== undefined
  const inputs = inputsOf(plan, node)
  return !isOverTime && inputs.length === 1 ? inputs : []
}

/** Takes the place of a hidden figure: neither its number nor its time nor its quality tells anything. */
export const CONCEALED: FigureValue = {
  value: null,
  at: null,
  quality: 'uncertain',
  reasons: ['hidden until it is revealed'],
}

/** While something is hidden, a reason keeps its words and loses its numbers: they may be those of the hidden figure. */
export function withoutNumbers(value: FigureValue): FigureValue {
  if (value.reasons.every((reason) => !/\d/.test(reason))) return value
  return { ...value, reasons: value.reasons.map((reason) => reason.replace(/\d[\d.,\u202f]*/g, '…')) }
}

const WORDS: Record<MachineState, string> = {
  running: 'Running.',
  stopped: 'Stopped.',
  overSpeed: 'Over-speed.',
  standstill: 'Standing still.',
  unknown: 'Not known.',
}

/** The state by its word alone: its sentence and what the instruments say of each other have numbers in them. */
export function plainState({ state, since }: StateView): StateView {
  return {
    state,
    since,
    sentence: WORDS[state],
    balance: { verdict: 'notJudged', sentence: 'Not shown while a figure is hidden.' },
  }
}
