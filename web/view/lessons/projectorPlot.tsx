import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { figureOf, titleWithUnit } from '../../../server/wire/amounts.ts'
import type { DrawnRun } from '../../../server/wire/drawn.ts'
import type { PointRunReply, RunReply } from '../../../server/wire/trial.ts'
import type { Connection } from '../../connect/connection.ts'
import type { Answer } from '../../connect/http.ts'
import { usePolled } from '../../connect/poll.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import type { FigureHold, PlantHold } from '../../hold/plantHold.ts'
import type { CurveDrawing } from '../../plot/curveChart.ts'
import { Chart, curveChart, useUnchanged } from '../parts/chart.tsx'
import { drawRun } from '../trials/drawRun.ts'

interface PlotProps {
  hold: PlantHold
  connection: Connection
  run: RunReply | null
  ids: readonly string[]
  collected: Collected
}

/** Points of the guided run as they stack up; without a run the last minutes of the first number. */
export function ProjectorPlot({ hold, connection, run, ids, collected }: PlotProps) {
  const hidden = hold.scene.value?.hidden ?? []
  const shown = hold.scene.value
  // A run belongs to the plant as it is now, traces are drawn on the page of their run; and no point may tell what is hidden.
  if (run?.takes === 'points' && !shown?.replay && !shown?.lesson?.frozenAt) {
    const isHidden = [run.trial.abscissa, run.trial.ordinate].some((id) => hidden.includes(id))
    return isHidden ? (
      <p class="plot-note">The plot of the run is hidden until the figure is revealed.</p>
    ) : (
      <RunPlot run={run} />
    )
  }
  const figure = ids.flatMap((id) => (hidden.includes(id) ? [] : (hold.byId.get(id) ?? [])))[0]
  return figure ? (
    <RecentPlot
      figure={figure}
      hold={hold}
      connection={connection}
      collected={collected}
      key={figure.description.id}
    />
  ) : null
}

function RunPlot({ run }: { run: PointRunReply }) {
  const figures = [run.trial.abscissa, run.trial.ordinate].map((id) => figureOf(run.trial, id))
  const [x, y] = figures.map((figure) => (figure ? titleWithUnit(figure) : ''))
  return <Plot x={x!} y={y!} runs={[drawRun(run, 'actual', null)]} />
}

const NOTHING: DrawnRun = { points: [], curve: null }
const KEPT_MS = 180_000
const EVERY_MS = 1000

/** By figure: collected here from what was shown, for a lesson has no history to ask for. NaN: a gap begins. */
export type Collected = Map<string, { at: number; value: number }[]>

function RecentPlot({
  figure,
  hold,
  connection,
  collected,
}: Pick<PlotProps, 'hold' | 'connection' | 'collected'> & { figure: FigureHold }) {
  const line = useSignal<DrawnRun>(NOTHING)
  const { id } = figure.description
  useEffect(() => {
    const draw = () => {
      const { value, quality } = figure.value.peek()
      const isStill = hold.scene.peek()?.lesson?.frozenAt != null
      const before = collected.get(id) ?? []
      const now = isStill ? (before.at(-1)?.at ?? 0) : Date.now()
      const isKnown = value !== null && quality !== 'bad' && connection.notice.peek() === null
      const more = isStill ? [] : [{ at: now, value: isKnown ? figure.unit.value(value) : Number.NaN }]
      const kept = [...before, ...more].filter(({ at }) => now - at <= KEPT_MS)
      collected.set(id, kept)
      line.value = lineOf(kept, now)
    }
    draw()
    const timer = setInterval(draw, EVERY_MS)
    return () => clearInterval(timer)
  }, [])
  return <Plot x="Time before now [s]" y={titleWithUnit(figure.description)} runs={[line.value]} />
}

function lineOf(kept: readonly { at: number; value: number }[], now: number): DrawnRun {
  if (kept.length < 2) return NOTHING
  const y = kept.map(({ value }) => value)
  return {
    ...NOTHING,
    curve: { x: kept.map(({ at }) => (at - now) / 1000), y, low: y, high: y },
  }
}

function Plot(props: CurveDrawing) {
  const drawn = useUnchanged(props)
  return (
    <Chart kind={curveChart} drawn={drawn} label={`${drawn.y} over ${drawn.x}`} class="projector-canvas" />
  )
}

const RUN_MS = 2000

/** The guided run that is under way at a plant; null while there is none. */
export function useRun(plant: string, joins: number): RunReply | null {
  const asked = usePolled<RunReply | null>(
    async (): Promise<Answer<RunReply | null>> => {
      const list = await trialRequests.list(plant)
      if (!list.ok) return list
      const { underWay } = list.reply
      return underWay === null ? { ok: true, reply: null } : trialRequests.run(plant, underWay.id)
    },
    RUN_MS,
    [plant, joins],
  )
  return asked.reply.value
}
