import { type FigureNode, nodeOf, type Plan } from '../derive/plan.ts'
import type { AlarmView } from '../wire/alarm.ts'
import type { FigureValue } from '../wire/figure.ts'
import type { MachineState, StateView } from '../wire/plant.ts'
import type { Scene } from './scene.ts'

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

/** Hidden figures that can be worked out from others, all of which are shown. */
export function leadsOf(plan: Plan, concealed: ReadonlySet<string>): { hidden: string; from: string[] }[] {
  return [...concealed].flatMap((id) => {
    const node = nodeOf(plan, id)
    const from = node ? inputsOf(plan, node) : []
    return from.length > 0 && from.every((input) => !concealed.has(input)) ? [{ hidden: id, from }] : []
  })
}

/** Units in which the same power is told. */
const SAME: Record<string, string> = { 'V.A': 'W' }
/** Closer than this the one tells the other. */
const ALIKE = 0.03

/**
 * Figures that read nearly the same as this one just now, though they are not computed from it: a second instrument,
 * or apparent beside active power of a load without reactance.
 */
export function lookAlikes(scene: Scene | undefined, figure: string): string[] {
  const index = scene?.view.figures.findIndex(({ id }) => id === figure) ?? -1
  const asked = scene?.view.figures[index]
  if (!scene || !asked) return []
  const kind = (unit: string) => SAME[unit] ?? unit
  const value = scene.value(index).value ?? Number.NaN
  return scene.view.figures.flatMap(({ id, unit, discrete }, other) => {
    if (id === figure || discrete || kind(unit) !== kind(asked.unit)) return []
    const near = Math.abs((scene.value(other).value ?? Number.NaN) - value)
    return near <= ALIKE * Math.abs(value) ? [id] : []
  })
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
  generating: 'Generating.',
  starting: 'Starting.',
  noLoad: 'Turning without making power.',
  runDown: 'Running down.',
  motoring: 'Motoring.',
  stopped: 'Standing still.',
  overSpeed: 'Over-speed.',
  turning: 'Turning.',
  unknown: 'Not known.',
}

/** The state by its word alone: its sentence and what the instruments say of each other have numbers in them. */
export function plainState({ state, since }: StateView): StateView {
  return {
    state,
    since,
    sentence: WORDS[state],
    agreement: { state: 'notJudged', sentence: 'Not shown while a figure is hidden.' },
  }
}

/** An alarm as a class sees it: that it is there, and what to do, without names of people and without detail. */
export function plainAlarm(alarm: AlarmView, isConcealed: boolean): AlarmView {
  const { detail: _detail, limit: _limit, ...rest } = alarm
  return {
    ...rest,
    acknowledgedBy: null,
    withheld: null,
    ...(isConcealed ? { value: null, peak: null, peakAt: null } : {}),
  }
}
