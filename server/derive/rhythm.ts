import type { Plan } from './plan.ts'

/** Inputs of one figure may be this far apart [ms]: a rig is watched closely, a plant is not. */
const ALIGNMENT_MS = { rig: 1000, offGrid: 5000, gridTied: 5000 } as const

/** False for what is sent only on change, and for what follows from nothing else: its time does not grow old. */
export function rhythmOf(plan: Plan): boolean[] {
  const rhythm: boolean[] = []
  for (const node of plan.nodes)
    rhythm.push(
      node.kind === 'measured' ? node.instrument.periodic : node.inputs.some((input) => rhythm[input]),
    )
  return rhythm
}

/** Slow instruments are allowed to lag by their own rhythm. */
export function toleranceOf(plan: Plan, node: Plan['nodes'][number]): number {
  const periods = node.kind === 'derived' ? node.inputs.map((i) => slowest(plan, i)) : []
  return Math.max(ALIGNMENT_MS[plan.plant.use], ...periods.map((period) => 1.5 * period))
}

function slowest(plan: Plan, index: number): number {
  const node = plan.nodes[index]!
  if (node.kind === 'measured') return node.instrument.periodMs
  return Math.max(0, ...node.inputs.map((i) => slowest(plan, i)))
}

export function staleText(ageMs: number, periodic: boolean): string {
  if (!periodic) return 'no connection to its source'
  const seconds = Math.round(ageMs / 1000)
  return seconds < 120 ? `stale ${seconds} s` : `stale ${Math.round(seconds / 60)} min`
}
