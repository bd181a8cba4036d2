import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import { titleWithUnit } from '../../../server/wire/amounts.ts'
import { groupBy } from '../../../server/wire/groupBy.ts'
import type { TogetherAmount, TraceCurve, TraceReply, TraceTogether } from '../../../server/wire/trace.ts'
import type { RunReply, TraceRunReply } from '../../../server/wire/trial.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import { counted } from '../../format/words.ts'
import { Chart, linesChart } from '../parts/chart.tsx'
import { ChoiceField } from '../parts/fields.tsx'
import { channelLines, curveLine, curvesOf, type ShownTrace } from './drawTraces.ts'
import { Legend, type LegendItem } from './legend.tsx'
import { amountWithEnds, figureAmount } from './trialText.ts'

/** Drawn together at most; more would be a tangle. The newest kept ones. */
const MOST_SHOWN = 6
const LIVE_MS = 1500

interface TraceResultProps {
  reply: TraceRunReply
  /** Laid over it. */
  others: readonly RunReply[]
  plant: string
}

/** What the traces say together; themselves laid over each other at the trigger, what was fitted, and what is left. */
export function TraceResult({ reply, others, plant }: TraceResultProps) {
  const shown = useShown([reply, ...others.filter((one) => one.takes === 'traces')], plant)
  const chosen = useSignal<string | null>(null)
  const { channels, main } = reply.trial
  const channel = channels.find((one) => one.quantity === (chosen.value ?? main)) ?? channels[0]!
  const isMain = channel.quantity === main
  const drawn = useMemo(
    () => ({
      lines: channelLines(shown, channel, isMain),
      x: 'Time from the trigger [s]',
      y: titleWithUnit(channel),
      marksZero: true,
    }),
    [shown, channel],
  )
  return (
    <>
      <Together together={reply.together} />
      {shown.length > 0 && (
        <>
          <Chart
            kind={linesChart}
            drawn={drawn}
            label={`${channel.name} over time. The table of traces has the numbers.`}
            class="curve-canvas"
          />
          <Legend items={legendOf(shown, isMain)} />
          <div class="ordinate">
            <ChoiceField
              id="channel"
              label="Drawn upwards"
              options={channels.map(({ quantity, name }) => ({ id: quantity, name }))}
              value={channel.quantity}
              choose={(quantity) => (chosen.value = quantity)}
            />
          </div>
        </>
      )}
      {[...curveGroup(shown, 'residual'), ...curveGroup(shown, 'other')].map(([id, curves]) => (
        <CurveFigure key={id} curves={curves} />
      ))}
    </>
  )
}

function legendOf(shown: readonly ShownTrace[], isMain: boolean): LegendItem[] {
  const hasFit = isMain && shown.some(({ view }) => curvesOf(view, 'fitted').length > 0)
  return [
    ...shown.map(({ name, look }) => ({ name, mark: `line-mark series-${(look % 4) + 1}` })),
    ...(hasFit ? [{ name: 'fitted', mark: 'line-mark line-mark-fit' }] : []),
  ]
}

/** Readings of the traces to draw; those of a trace that has ended are asked for once. */
function useShown(runs: readonly TraceRunReply[], plant: string): readonly ShownTrace[] {
  const known = useSignal<ReadonlyMap<string, TraceReply>>(new Map())
  const wanted = runs.flatMap((run, i) =>
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
  return useMemo(
    () =>
      wanted.flatMap(({ run, view: trace, key }, look) => {
        const readings = known.value.get(key)
        const name =
          run.id === runs[0]?.run.id ? `Trace ${trace.number}` : `${run.name}, trace ${trace.number}`
        return readings ? [{ name, look, readings, view: trace }] : []
      }),
    [known.value, keys],
  )
}

interface LookedAt {
  curve: TraceCurve
  look: number
}

function curveGroup(shown: readonly ShownTrace[], kind: TraceCurve['kind']): [string, LookedAt[]][] {
  const curves = shown.flatMap(({ view, look }) => curvesOf(view, kind).map((curve) => ({ curve, look })))
  return [...groupBy(curves, ({ curve }) => curve.id)]
}

function CurveFigure({ curves }: { curves: LookedAt[] }) {
  const { name, xName, xUnit, xViewUnit, yName, unit, viewUnit } = curves[0]!.curve
  const drawn = useMemo(
    () => ({
      lines: curves.map(({ curve, look }) => curveLine(curve, look, 'thin')),
      x: titleWithUnit({ name: xName, unit: xUnit, viewUnit: xViewUnit }),
      y: titleWithUnit({ name: yName, unit, viewUnit }),
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

/** What the kept traces say together. */
function Together({ together: { lacking, amounts, remarks } }: { together: TraceTogether }) {
  return (
    <>
      {lacking !== '' && <p class="quiet">{lacking}</p>}
      {amounts.map((one) => {
        const { id, name, value, low, high, count, expected } = one
        if (low === null || high === null) return null
        return (
          <div class="result" key={id} data-together={id} data-wire={value}>
            <p class="result-best">
              <b>{name}:</b> {amountWithEnds(one, value, [low, high])}, {counted(count, 'trace')}
            </p>
            {expected !== null && (
              <p>
                By the {one.expectedFrom}: {figureAmount(one, expected)}. <b>{one.compared}</b>
              </p>
            )}
          </div>
        )
      })}
      {amounts.length > 0 && <MeansTable amounts={amounts} />}
      {remarks.map((one) => (
        <p key={one}>{one}</p>
      ))}
    </>
  )
}

/** Quantities downwards; kinds of traces, where there are several, across. */
function MeansTable({ amounts }: { amounts: readonly TogetherAmount[] }) {
  const groups = [...new Set(amounts.map((one) => one.group ?? ''))]
  const names = [...new Set(amounts.map((one) => one.name))]
  const at = (name: string, group: string) =>
    amounts.find((one) => one.name === name && (one.group ?? '') === group)
  const counts = groups.map((group) =>
    Math.max(...amounts.filter((one) => (one.group ?? '') === group).map((one) => one.count)),
  )
  return (
    <details class="fold" open={amounts.every((one) => one.low === null)}>
      <summary>Means and scatter of the kept traces</summary>
      <div class="wide-means">
        <table class="trace-means">
          <thead>
            <tr>
              <th scope="col">Mean (standard deviation)</th>
              {groups.map((group, i) => (
                <th scope="col" class="at-right nowrap" key={group}>
                  {group} {counted(counts[i]!, 'trace')}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {names.map((name) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                {groups.map((group) => (
                  <td class="at-right number nowrap" key={group}>
                    {meanWords(at(name, group))}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  )
}

function meanWords(one: TogetherAmount | undefined): string {
  if (!one) return '–'
  return one.deviation === null
    ? figureAmount(one, one.value)
    : `${figureAmount(one, one.value)} (${figureAmount(one, one.deviation, true)})`
}
