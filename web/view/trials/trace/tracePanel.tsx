import { type Signal, useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import { titleWithUnit } from '../../../../server/wire/amounts.ts'
import type { TraceCurve, TraceReply } from '../../../../server/wire/trace.ts'
import type { TraceRunReply } from '../../../../server/wire/trial.ts'
import { printUnit } from '../../../../server/wire/units.ts'
import { usePolled } from '../../../connect/poll.ts'
import { trialRequests } from '../../../connect/trialRequests.ts'
import { Chart, linesChart } from '../../parts/chart.tsx'
import { Panel } from '../../parts/panel.tsx'
import { channelLines, curveLine, curvesOf, type ShownTrace } from './drawTraces.ts'

/** Drawn together at most; more would be a tangle. The newest kept ones. */
const MOST_SHOWN = 6
const LIVE_MS = 1500
const LIST_MS = 15_000

/** Traces laid over each other at the trigger, what was fitted, and what is left. */
export function TracePanel({ reply, plant }: { reply: TraceRunReply; plant: string }) {
  const { view: shown, others } = useShown(reply, plant)
  const chosen = useSignal<string | null>(null)
  const { channels, main } = reply.trial
  const channel = channels.find((one) => one.quantity === (chosen.value ?? main)) ?? channels[0]!
  const drawn = useMemo(
    () => ({
      lines: channelLines(shown, channel, channel.quantity === main),
      x: 'Time from the trigger [s]',
      y: titleWithUnit(channel),
      marksZero: true,
    }),
    [shown, channel],
  )
  const residuals = curveGroup(shown, 'residual')
  const pictures = curveGroup(shown, 'other')
  return (
    <Panel id="trace" title="Traces">
      {shown.length === 0 && <p class="quiet">Nothing is recorded yet.</p>}
      {shown.length > 0 && (
        <>
          <Chart
            kind={linesChart}
            drawn={drawn}
            label={`${channel.name} over time. The table of traces has the numbers.`}
            class="curve-canvas"
          />
          <Legend
            shown={shown}
            hasFit={
              channel.quantity === main && shown.some(({ view }) => curvesOf(view, 'fitted').length > 0)
            }
          />
          <p class="field ordinate">
            <label for="channel">Drawn upwards</label>
            <select
              id="channel"
              value={channel.quantity}
              onChange={({ currentTarget }) => (chosen.value = currentTarget.value)}
            >
              {channels.map(({ quantity, name }) => (
                <option key={quantity} value={quantity}>
                  {name}
                </option>
              ))}
            </select>
          </p>
        </>
      )}
      {[...residuals, ...pictures].map(([id, curves]) => (
        <CurveFigure key={id} curves={curves} />
      ))}
      <Overlay plant={plant} reply={reply} others={others} />
    </Panel>
  )
}

/** Readings of the traces to draw; those of a trace that has ended are asked for once. */
function useShown(reply: TraceRunReply, plant: string): { view: readonly ShownTrace[]; others: Others } {
  const known = useSignal<ReadonlyMap<string, TraceReply>>(new Map())
  const others = useSignal<readonly TraceRunReply[]>([])
  const wanted = [reply, ...others.value].flatMap((run, i) =>
    run.traces
      .filter((one) => one.verdict === 'kept')
      .slice(i === 0 ? -MOST_SHOWN : -1)
      .map((view) => ({
        run: run.run,
        view,
        key: `${run.run.id} ${view.number} ${view.endedAt ?? ''} ${view.result?.isReduced}`,
      })),
  )
  const keys = wanted.map((one) => one.key).join()
  useEffect(() => {
    let isGone = false
    const ask = async () => {
      for (const { run, view, key } of wanted) {
        if (known.value.has(key) && view.endedAt !== null) continue
        const answer = await trialRequests.trace(plant, run.id, view.number)
        if (isGone) return
        if (answer.ok) known.value = new Map([...known.value, [key, answer.reply]])
      }
    }
    void ask()
    const isLive = wanted.some(({ view }) => view.endedAt === null)
    const timer = isLive ? setInterval(() => void ask(), LIVE_MS) : undefined
    return () => {
      isGone = true
      clearInterval(timer)
    }
  }, [keys])
  const view = useMemo(
    () =>
      wanted.flatMap(({ run, view: trace, key }, look) => {
        const readings = known.value.get(key)
        const name = run.id === reply.run.id ? `Trace ${trace.number}` : `${run.name}, trace ${trace.number}`
        return readings ? [{ name, look, readings, view: trace }] : []
      }),
    [known.value, keys],
  )
  return { view, others }
}

type Others = Signal<readonly TraceRunReply[]>

function curveGroup(
  shown: readonly ShownTrace[],
  kind: TraceCurve['kind'],
): [string, { curve: TraceCurve; look: number }[]][] {
  const groups = new Map<string, { curve: TraceCurve; look: number }[]>()
  for (const { view, look } of shown)
    for (const curve of curvesOf(view, kind))
      groups.set(curve.id, [...(groups.get(curve.id) ?? []), { curve, look }])
  return [...groups]
}

function CurveFigure({ curves }: { curves: { curve: TraceCurve; look: number }[] }) {
  const { name, xName, xViewUnit, yName, viewUnit } = curves[0]!.curve
  const drawn = useMemo(
    () => ({
      lines: curves.map(({ curve, look }) => curveLine(curve, look, 'thin')),
      x: withUnit(xName, xViewUnit),
      y: withUnit(yName, viewUnit),
      marksZero: false,
    }),
    [curves],
  )
  return (
    <figure class="trace-figure">
      <figcaption>{name}</figcaption>
      <Chart kind={linesChart} drawn={drawn} label={name} class="curve-canvas trace-small" />
    </figure>
  )
}

function withUnit(name: string, unit: string): string {
  return printUnit(unit) === '' ? name : `${name} [${printUnit(unit)}]`
}

function Legend({ shown, hasFit }: { shown: readonly ShownTrace[]; hasFit: boolean }) {
  return (
    <ul class="curve-legend">
      {shown.map(({ name, look }) => (
        <li key={name}>
          <span class={`trace-mark trace-mark-${look % 4}`} aria-hidden="true" /> {name}
        </li>
      ))}
      {hasFit && (
        <li>
          <span class="trace-mark trace-mark-fit" aria-hidden="true" /> fitted
        </li>
      )}
    </ul>
  )
}

const MOST_OTHERS = 3

/** The newest kept trace of other runs of the same trial, laid over these. */
function Overlay({ plant, reply: { run }, others }: { plant: string; reply: TraceRunReply; others: Others }) {
  const asked = usePolled(() => trialRequests.runs(plant, { trial: run.trial }), LIST_MS, [plant, run.trial])
  const runs = (asked.reply.value?.runs ?? []).filter((one) => one.id !== run.id)
  if (runs.length === 0) return null
  const isShown = (id: number) => others.value.some((one) => one.run.id === id)
  const toggle = async (id: number) => {
    if (isShown(id)) {
      others.value = others.value.filter((one) => one.run.id !== id)
      return
    }
    const answer = await trialRequests.run(plant, id)
    if (answer.ok && answer.reply.takes === 'traces')
      others.value = [...others.value, answer.reply].slice(-MOST_OTHERS)
  }
  return (
    <details class="fold">
      <summary>Lay other runs over this one</summary>
      <ul class="overlays">
        {runs.map((one) => (
          <li key={one.id}>
            <label>
              <input type="checkbox" checked={isShown(one.id)} onChange={() => void toggle(one.id)} />
              {one.name} {[one.className, one.group, one.year].filter((text) => text !== '').join(', ')}
            </label>
          </li>
        ))}
      </ul>
    </details>
  )
}
