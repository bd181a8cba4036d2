import type { Plan } from '../derive/plan.ts'
import type { AlarmView } from '../wire/alarm.ts'

/** Hidden figures that can be worked out from others, all of which are shown. */
export function leadsOf(plan: Plan, concealed: ReadonlySet<string>): { hidden: string; from: string[] }[] {
  return [...concealed].flatMap((id) => {
    const node = plan.nodes[plan.indexOf.get(id) ?? -1]
    if (!node || node.kind === 'measured') return []
    const from = [...new Set(node.inputs.map((index) => plan.nodes[index]?.description.id ?? ''))]
    return from.length > 0 && from.every((input) => !concealed.has(input)) ? [{ hidden: id, from }] : []
  })
}

/** Whether a class has to know of it whatever else is hidden or frozen. */
export function isForSafety({ entry, priority, kind }: AlarmView): boolean {
  return entry === 'alarm' && (priority === 'high' || kind === 'overSpeed')
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
