import { useEffect, useRef } from 'preact/hooks'
import type { RunReply } from '../../../server/wire/trial.ts'
import type { FigureHold, PlantHold } from '../../hold/plantHold.ts'
import { type CurveChart, createCurveChart } from '../../plot/curveChart.ts'
import type { DrawnRun } from '../../plot/drawnRun.ts'
import { titleWithUnit } from '../trials/amounts.ts'
import { drawRun } from '../trials/drawRun.ts'

interface PlotProps {
  hold: PlantHold
  run: RunReply | null
  ids: readonly string[]
}

/** Points of the guided run as they stack up; without a run the last minutes of the first number. */
export function ProjectorPlot({ hold, run, ids }: PlotProps) {
  const hidden = hold.scene.value?.hidden ?? []
  const shown = hold.scene.value
  // A run belongs to the plant as it is now; and no point may tell what is hidden.
  const isRun = run !== null && !shown?.replay && !shown?.lesson?.frozenAt
  const axes = isRun ? [run.trial.abscissa, run.trial.ordinate] : []
  if (isRun && axes.some((id) => hidden.includes(id)))
    return <p class="plot-note">The plot of the run is hidden until the figure is revealed.</p>
  if (isRun) return <RunPlot run={run} />
  const figure = ids.flatMap((id) => (hidden.includes(id) ? [] : (hold.byId.get(id) ?? [])))[0]
  return figure ? <RecentPlot figure={figure} hold={hold} key={figure.description.id} /> : null
}

function RunPlot({ run }: { run: RunReply }) {
  const figures = [run.trial.abscissa, run.trial.ordinate].map((id) =>
    run.trial.figures.find((figure) => figure.id === id),
  )
  const [x, y] = figures.map((figure) => (figure ? titleWithUnit(figure) : ''))
  return <Canvas axes={{ x: x!, y: y! }} runs={[drawRun(run, 'actual', null)]} />
}

const KEPT_MS = 180_000
const EVERY_MS = 1000

/** Collected here from what was shown: a class has no history to ask for. */
function RecentPlot({ figure, hold }: { figure: FigureHold; hold: PlantHold }) {
  const kept = useRef<{ at: number; value: number }[]>([])
  const host = useRef<{ show: (runs: DrawnRun[]) => void } | null>(null)
  useEffect(() => {
    const timer = setInterval(() => {
      const { value, quality } = figure.value.peek()
      const now = Date.now()
      if (hold.scene.peek()?.lesson?.frozenAt) return
      if (value !== null && quality !== 'bad') kept.current.push({ at: now, value: figure.unit.value(value) })
      kept.current = kept.current.filter(({ at }) => now - at <= KEPT_MS)
      host.current?.show([lineOf(kept.current, now)])
    }, EVERY_MS)
    return () => clearInterval(timer)
  }, [])
  const axes = { x: 'Time before now [s]', y: titleWithUnit(figure.description) }
  return <Canvas axes={axes} runs={[]} hand={host} />
}

function lineOf(kept: readonly { at: number; value: number }[], now: number): DrawnRun {
  if (kept.length < 2) return { points: [], curve: null, best: null }
  const y = kept.map(({ value }) => value)
  return { points: [], curve: { x: kept.map(({ at }) => (at - now) / 1000), y, low: y, high: y }, best: null }
}

interface CanvasProps {
  axes: { x: string; y: string }
  runs: DrawnRun[]
  /** Given a way to draw without drawing the component anew. */
  hand?: { current: { show: (runs: DrawnRun[]) => void } | null }
}

function Canvas({ axes, runs, hand }: CanvasProps) {
  const host = useRef<HTMLDivElement>(null)
  const chart = useRef<CurveChart | null>(null)
  useEffect(() => {
    chart.current = createCurveChart(host.current!, axes)
    if (hand) hand.current = chart.current
    return () => chart.current?.destroy()
  }, [axes.x, axes.y])
  const key = JSON.stringify(runs)
  useEffect(() => {
    if (!hand) chart.current?.show(runs)
  }, [key, axes.x, axes.y])
  return <div class="projector-canvas" ref={host} role="img" aria-label={`${axes.y} over ${axes.x}`} />
}
