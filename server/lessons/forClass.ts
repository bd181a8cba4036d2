import { nodeOf, type Plan } from '../derive/plan.ts'
import type { Scene } from '../push/scene.ts'
import type { AlarmView } from '../wire/alarm.ts'

/** Hidden figures that can be worked out from others, all of which are shown. */
export function leadsOf(plan: Plan, concealed: ReadonlySet<string>): { hidden: string; from: string[] }[] {
  return [...concealed].flatMap((id) => {
    const node = nodeOf(plan, id)
    if (!node || node.kind === 'measured') return []
    const from = [...new Set(node.inputs.map((index) => plan.nodes[index]?.description.id ?? ''))]
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

/** An alarm as a class sees it: that it is there, and what to do, without names of people and without detail. */
export function forClass(alarm: AlarmView, isConcealed: boolean): AlarmView {
  const { detail: _detail, limit: _limit, ...rest } = alarm
  return {
    ...rest,
    acknowledgedBy: null,
    withheld: null,
    ...(isConcealed ? { value: null, peak: null, peakAt: null } : {}),
  }
}
