import { FROZEN } from '../../derive/stillWatch.ts'
import { NOT_STEADY } from '../../derive/storageWatch.ts'
import type { FigurePlant } from '../../mirror/shownPlant.ts'
import {
  type SteadinessState,
  startSteadiness,
  stepSteadiness,
  USUAL_WEIGHTS,
} from '../../statistics/steadyState.ts'
import { isSwitch, settingText } from '../../wire/setting.ts'
import type { Track } from './steadiness.ts'

/** Mean time between two samples, and length of the window that must be steady [ms]. */
export const SAMPLE_MS = 500
export const WINDOW_MS = 20_000
export const WINDOW_SAMPLES = WINDOW_MS / SAMPLE_MS
/** After a longer pause (a sleeping computer) the window begins anew [ms]. */
const LONGEST_PAUSE_MS = 4 * SAMPLE_MS

/** The newest window of the figures of a trial. */
export interface Samples {
  /** Takes what the figures are now. Returns the figures that have no usable value, with the reason. */
  take(now: number): string[]
  clear(): void
  readonly at: readonly number[]
  values(figure: string): readonly number[]
  track(figure: string, newest: number): Track
  /** Reasons for which values of the window were not good, each once. */
  remarks(): string[]
  /** What the newest sample says of energy going into or out of storage: nothing up to it belongs to a steady window. */
  unsettled(): string | undefined
}

interface Column {
  id: string
  index: number
  values: number[]
  ratios: number[]
  steadiness: SteadinessState | undefined
  measuredAt: number
}

/** @param needed Figures without which there is no window; others may be missing. */
export function createSamples(
  live: FigurePlant,
  figures: readonly string[],
  needed: ReadonlySet<string>,
): Samples {
  const columns = figures.map((id): Column => {
    const index = live.plan.indexOf.get(id)!
    return { id, index, values: [], ratios: [], steadiness: undefined, measuredAt: Number.NaN }
  })
  const byId = new Map(columns.map((column) => [column.id, column]))
  const at: number[] = []
  const remarks: string[][] = []

  function clear(): void {
    at.length = 0
    remarks.length = 0
    for (const column of columns) {
      column.values.length = 0
      column.ratios.length = 0
    }
  }

  const unsettled = () => remarks.at(-1)?.find((text) => text.includes(NOT_STEADY))

  function take(now: number): string[] {
    const views = columns.map((column) => live.evaluator.view(column.index))
    const lost = columns.flatMap(({ id, index }, i) => {
      const { value, quality, reasons } = views[i]!
      // What repeats itself exactly is steady for the wrong reason.
      const isFrozen = reasons.some((text) => text.includes(FROZEN))
      if (!needed.has(id) || (value !== null && quality !== 'bad' && !isFrozen)) return []
      return [`${live.plan.nodes[index]!.description.name}: ${reasons.join('; ') || 'no value'}`]
    })
    if (lost.length > 0) {
      clear()
      // What is measured says more than what follows from it.
      return lost.sort((a, b) => a.split(': ').length - b.split(': ').length)
    }
    if (now - (at.at(-1) ?? now) > LONGEST_PAUSE_MS || unsettled() !== undefined) clear()
    at.push(now)
    remarks.push(
      columns.flatMap(({ id, index }, i) =>
        needed.has(id)
          ? views[i]!.reasons.map((text) => `${live.plan.nodes[index]!.description.name}: ${text}`)
          : [],
      ),
    )
    for (const [i, column] of columns.entries())
      push(column, live, views[i]!.quality === 'bad' ? null : views[i]!.value)
    if (at.length > WINDOW_SAMPLES) {
      at.shift()
      remarks.shift()
      for (const column of columns) {
        column.values.shift()
        column.ratios.shift()
      }
    }
    return []
  }

  return {
    take,
    clear,
    at,
    values: (figure) => byId.get(figure)?.values ?? [],
    track(figure, newest) {
      const column = byId.get(figure)
      return { values: column?.values.slice(-newest) ?? [], ratios: column?.ratios.slice(-newest) ?? [] }
    },
    remarks: () => [...new Set(remarks.flat())],
    unsettled,
  }
}

/** The ratio steps only with a new measurement: a value that is merely repeated says nothing about noise. */
function push(column: Column, { evaluator }: FigurePlant, value: number | null): void {
  const measuredAt = evaluator.at(column.index)
  column.values.push(value ?? Number.NaN)
  if (value !== null && measuredAt !== column.measuredAt) {
    column.steadiness = column.steadiness
      ? stepSteadiness(column.steadiness, value, USUAL_WEIGHTS)
      : startSteadiness(value)
    column.measuredAt = measuredAt
  }
  if (value === null) column.steadiness = undefined
  column.ratios.push(column.steadiness?.ratio ?? Number.NaN)
}

/** Tells what the switches of a plant are set to, e.g. "jets 1, 2 · loads 2". */
export function createSetting({ plan, evaluator }: FigurePlant): () => string {
  const switches = plan.nodes.filter(({ description }) => isSwitch(description.id))
  return () =>
    settingText(
      switches.map(({ index, description: { id } }) => ({
        id,
        value: evaluator.value(index),
      })),
    )
}
