import { effect, signal } from '@preact/signals'
import type { HistoryReply } from '../../server/wire/replies.ts'
import type { Frame } from '../../server/wire/socketEvents.ts'
import type { Connection } from '../connect/connection.ts'
import { http } from '../connect/http.ts'
import type { FigureHold, PlantHold } from './plantHold.ts'
import { createTrendRows, type TrendRows } from './trendRows.ts'

export interface Span {
  id: string
  name: string
  ms: number
}

export const SPANS: Span[] = [
  { id: '10min', name: '10 min', ms: 600_000 },
  { id: '1h', name: '1 h', ms: 3_600_000 },
  { id: '24h', name: '24 h', ms: 86_400_000 },
  { id: '7d', name: '7 d', ms: 604_800_000 },
]

/** Points asked for: about one per pixel of a chart on a desk, less on a phone. */
const POINTS_WIDE = 600
const POINTS_NARROW = 300

/** A replay moves on by less than this from frame to frame, however fast [ms]. */
const WOUND_MS = 10_000

/** Rows beyond the span, so that its left edge is always filled. */
const SPARE_ROWS = 8

/**
 * The trend columns of one plant: filled from the history, then carried on by the frames. The caller calls
 * `close` when the screen goes.
 */
export function createTrends(connection: Connection, hold: PlantHold) {
  const figures = hold.view.trends.flatMap((id) => hold.byId.get(id) ?? [])
  const ids = figures.map((figure) => figure.description.id)
  const span = signal<Span>(SPANS[0]!)
  const points = matchMedia('(min-width: 700px)').matches ? POINTS_WIDE : POINTS_NARROW
  const rows = signal(emptyRows(ids, span.value.ms, points))
  const error = signal<string | null>(null)
  /** Counts changes to the rows: charts look at it a few times a second. */
  let version = 0
  let wish = 0
  let shownAt: number | undefined
  let hidden = hold.scene.peek()?.hidden.join() ?? ''

  async function load(): Promise<void> {
    const mine = ++wish
    const to = connection.serverNow()
    const answer = await http.history(hold.view.id, { figures: ids, from: to - span.value.ms, to, points })
    if (mine !== wish) return
    error.value = answer.ok ? null : answer.error
    const since = rows.value
    const next = answer.ok
      ? filledRows(answer.reply, ids, span.value.ms)
      : emptyRows(ids, span.value.ms, points)
    // What came by frame while the history was on its way is newer than the history.
    carryOver(since, next, { ids, since: to })
    rows.value = next
    version++
  }

  /** A recording that is wound on or back needs other rows than those that follow from its frames. */
  function isWound(frame: Frame): boolean {
    const at = frame.scene?.replay?.at
    if (at === undefined) return false
    const before = shownAt
    shownAt = at
    return before !== undefined && (at < before || at - before > WOUND_MS)
  }

  /** Figures were hidden or revealed: what is drawn of them must go, or come back. */
  function isHiddenAnew(): boolean {
    const before = hidden
    hidden = hold.scene.peek()?.hidden.join() ?? ''
    return hidden !== before
  }

  function forget(): void {
    rows.value = emptyRows(ids, span.value.ms, points)
    if (ids.length > 0) void load()
  }

  function takeFrame(frame: Frame): void {
    if (isWound(frame) && ids.length > 0) void load()
    if (isHiddenAnew()) forget()
    for (const [index, { value, at }] of frame.values) {
      const id = hold.figures[index]?.description.id
      if (!id || !ids.includes(id)) continue
      const sample = value === null ? null : { min: value, mean: value, max: value }
      rows.value.add(id, value === null ? frame.at : (at ?? frame.at), sample)
    }
    version++
  }

  hold.onFrame.add(takeFrame)
  const stop = effect(() => {
    void connection.joins.value
    void span.value
    if (ids.length > 0) void load()
  })

  return {
    figures,
    span,
    rows,
    error,
    get version() {
      return version
    },
    close() {
      stop()
      wish++
      hold.onFrame.delete(takeFrame)
    },
  }
}

export type Trends = ReturnType<typeof createTrends>

/** Largest ratio of sizes on one axis: beyond it the smaller line would lie flat on the bottom. */
const MOST_RATIO = 5
const MOST_LINES = 4

/** Figures that share an axis: same unit, sizes that can be compared, at most four lines. */
export function chartGroups(figures: FigureHold[]): FigureHold[][] {
  const groups: FigureHold[][] = []
  for (const figure of figures) {
    const group = groups.find((held) => held.length < MOST_LINES && held.every((one) => isAlike(one, figure)))
    if (group) group.push(figure)
    else groups.push([figure])
  }
  return groups
}

/** Powers are always compared: how they shrink from the water to the loads is what the chart is for. */
function isAlike(a: FigureHold, b: FigureHold): boolean {
  if (a.description.viewUnit !== b.description.viewUnit || a.description.viewUnit === '1') return false
  if (a.description.unit === 'W') return true
  const [small, large] = [usualSize(a), usualSize(b)].sort((x, y) => x - y)
  return large! <= MOST_RATIO * small!
}

/** Its limit says little: a level of 50 mm may have one of 3 m. */
function usualSize({ description, value }: FigureHold): number {
  return Math.abs(description.rated ?? (value.peek().value || description.high) ?? 0)
}

function emptyRows(ids: string[], spanMs: number, points: number): TrendRows {
  return createTrendRows({
    ids,
    bucketMs: Math.max(1000, spanMs / points),
    capacity: points * 2 + SPARE_ROWS,
  })
}

function filledRows(reply: HistoryReply, ids: string[], spanMs: number): TrendRows {
  const bucketMs = Math.max(1, reply.bucketMs)
  // Twice, because every hole takes a row of its own.
  const capacity = 2 * Math.ceil(spanMs / bucketMs) + SPARE_ROWS
  const rows = createTrendRows({ ids, bucketMs, capacity: Math.min(capacity, 20_000) })
  reply.at.forEach((at, row) => {
    for (const figure of reply.figures) {
      const mean = figure.mean[row] ?? null
      if (mean === null || !ids.includes(figure.id)) continue
      rows.add(figure.id, at, { mean, min: figure.min[row] ?? mean, max: figure.max[row] ?? mean })
    }
  })
  return rows
}

function carryOver(from: TrendRows, to: TrendRows, { ids, since }: { ids: string[]; since: number }): void {
  const held = ids.map((id) => ({ id, columns: from.columns(id, since) }))
  const times = held[0]?.columns.at ?? []
  times.forEach((time, row) => {
    for (const { id, columns } of held) {
      const [min, mean, max] = [columns.min[row]!, columns.mean[row]!, columns.max[row]!]
      if (Number.isFinite(mean)) to.add(id, time, { min, mean, max })
    }
  })
}
