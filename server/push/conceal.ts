import type { Plan } from '../derive/plan.ts'
import type { FigureValue } from '../wire/figure.ts'
import type { MachineState, StateView } from '../wire/plant.ts'

/**
 * Ids of every figure that is hidden with these: whatever is computed from one of them, step by step, since it could
 * be turned back. What a hidden figure is computed from stays in view: whoever is asked to
 * predict it must be able to.
 */
export function concealedWith(plan: Plan, hidden: readonly string[]): Set<string> {
  const concealed = new Set(hidden.filter((id) => plan.indexOf.has(id)))
  // Inputs come before their use, so one pass is enough.
  for (const node of plan.nodes) {
    if (node.kind === 'measured') continue
    const inputs = node.inputs.map((index) => plan.nodes[index]?.description.id ?? '')
    if (inputs.some((id) => concealed.has(id))) concealed.add(node.description.id)
  }
  return concealed
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
