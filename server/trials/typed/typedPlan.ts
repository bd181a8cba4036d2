import { type Plan, planFigures } from '../../derive/plan.ts'
import type { Instrument, Plant } from '../../plant/plant.ts'
import { roleOf } from '../../plant/roles.ts'
import { NORMAL_95 } from '../../statistics/normal.ts'
import { unitOf } from '../../wire/units.ts'

/** What a person can read from a simple instrument while everything else is measured, the likeliest first. */
export const TYPEABLE = [
  'torque',
  'discharge',
  'speed',
  'activePower',
  'inletPressure',
  'pumpInputPower',
] as const

/** A value somebody typed for the present state. */
export interface TypedValue {
  figure: string
  /** SI. */
  value: number
  /** Standard uncertainty, SI. */
  u: number
}

/** Name of the person's reading among the instruments; it errs alone. */
export function typedInstrument(figure: string): string {
  return `by hand: ${figure}`
}

/** The plant as if it had instruments that show what was typed. */
export function withTyped(plant: Plant, typed: readonly TypedValue[]): Plant {
  return { ...plant, instruments: [...plant.instruments, ...typed.map(instrumentFor)] }
}

function instrumentFor({ figure, u }: TypedValue): Instrument {
  const role = roleOf(figure)!
  const unit = unitOf(role.unit)
  return {
    id: typedInstrument(figure),
    name: role.name,
    quantity: figure,
    role,
    topic: '',
    payload: undefined as unknown as Instrument['payload'],
    unit,
    siUnit: unit,
    scale: undefined,
    range: undefined,
    accuracy: { absolute: NORMAL_95 * u } as NonNullable<Instrument['accuracy']>,
    periodMs: 1000,
    staleAfterMs: Number.MAX_SAFE_INTEGER,
    periodic: false,
  }
}

const plans = new WeakMap<Plan, Map<string, Plan>>()

/** The plan of the plant with one more instrument; kept as long as the plan. */
function planWith(plan: Plan, figure: string): Plan {
  const known = plans.get(plan) ?? new Map<string, Plan>()
  plans.set(plan, known)
  const made = known.get(figure) ?? planFigures(withTyped(plan.plant, [{ figure, value: 0, u: 0 }]))
  known.set(figure, made)
  return made
}

/** Figures that a person may type because nothing measures them here and the trial leans on them. */
export function typeable(plan: Plan, needed: readonly string[]): string[] {
  return TYPEABLE.filter((figure) => {
    if (plan.plant.instruments.some((one) => one.quantity === figure)) return false
    const made = planWith(plan, figure)
    const isEnough = needed.every((id) => made.indexOf.has(id))
    return isEnough && measuredBehind(made, needed).includes(figure)
  })
}

/**
 * The one figure that is typed at each point, and the plan with it: the one that somebody wishes to type in place of an
 * estimate, or the one without which the trial cannot be done. Undefined where all is measured, or one is not enough.
 */
export function typedPlan(
  plan: Plan,
  needed: readonly string[],
  wish?: string,
): { figure: string; plan: Plan } | undefined {
  const isComplete = needed.every((id) => plan.indexOf.has(id))
  if (wish === undefined && isComplete) return undefined
  const figure = typeable(plan, needed).find((one) => wish === undefined || one === wish)
  return figure === undefined ? undefined : { figure, plan: planWith(plan, figure) }
}

/** Measured amounts, no switches, that any of `figures` depends on. */
export function measuredBehind({ nodes, indexOf }: Plan, figures: readonly string[]): string[] {
  const seen = new Set<number>()
  const open = figures.flatMap((id) => indexOf.get(id) ?? [])
  while (open.length > 0) {
    const index = open.pop()!
    if (seen.has(index)) continue
    seen.add(index)
    const node = nodes[index]!
    if (node.kind !== 'measured') open.push(...node.inputs)
  }
  return [...seen].flatMap((index) => {
    const node = nodes[index]!
    return node.kind === 'measured' && !node.instrument.role?.discrete ? [node.description.id] : []
  })
}
