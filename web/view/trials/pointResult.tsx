import { useSignal } from '@preact/signals'
import { figureOf, titleWithUnit, viewOf, withInterval } from '../../../server/wire/amounts.ts'
import type { FigureDescription } from '../../../server/wire/figure.ts'
import type { FittedCurve, FittedParameter } from '../../../server/wire/findings.ts'
import type { PointRunReply, PointTrialView, RunReply } from '../../../server/wire/trial.ts'
import { Chart, curveChart, useUnchanged } from '../parts/chart.tsx'
import { Fact } from '../parts/fact.tsx'
import { ChoiceField } from '../parts/fields.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'
import { ComparisonPart } from './comparisonPart.tsx'
import {
  axesOf,
  bestWords,
  drawRun,
  type Kind,
  type NamedRun,
  resultOf,
  seriesRuns,
  theoryOf,
} from './drawRun.ts'
import { Legend, type LegendItem } from './legend.tsx'

interface PointResultProps {
  reply: PointRunReply
  /** Laid over it. */
  others: readonly RunReply[]
  kind: Kind
}

/** The curve so far with its band and best point. */
export function PointResult({ reply, others, kind }: PointResultProps) {
  /** Drawn in place of the ordinate. */
  const other = useSignal<string | null>(null)
  const { trial, points, findings } = reply
  const [xId, ordinate] = axesOf(trial, kind)
  const [x, y] = [xId, other.value ?? ordinate].map((id) => figureOf(trial, id))
  const named = [reply, ...others.filter((one) => one.takes === 'points')].flatMap(seriesRuns)
  const runs = named.map(({ run }) => drawRun(run, kind, other.value))
  const theory = runs[0]?.theory && theoryOf(reply, kind)
  const hasSeries = findings.series.length > 0
  const result = hasSeries ? null : resultOf(reply, kind)
  const drawn = useUnchanged({ x: x ? titleWithUnit(x) : '', y: y ? titleWithUnit(y) : '', runs })
  return (
    <>
      {x && y && (
        <Chart
          kind={curveChart}
          drawn={drawn}
          label={`${drawn.y} over ${drawn.x}. The table of points has the numbers.`}
          class="curve-canvas"
        />
      )}
      <Legend items={legendOf(named, theory?.from)} />
      {points.length > 0 && result?.isFitted === false && <p class="quiet">No curve yet: {result.lacking}</p>}
      {result?.isFitted && other.value === null && <Fitted result={result} trial={trial} kind={kind} />}
      {other.value === null && <Parameters parameters={furtherOf(findings)} />}
      {points.length > 0 && findings.comparison && (
        <ComparisonPart comparison={findings.comparison} trial={trial} />
      )}
      {points.length > 0 && (
        <div class="ordinate">
          <ChoiceField
            id="ordinate"
            label="Drawn upwards"
            options={ordinatesOf(reply)}
            value={other.value ?? trial.ordinate}
            choose={(id) => (other.value = id === trial.ordinate ? null : id)}
          />
        </div>
      )}
    </>
  )
}

function legendOf(named: readonly NamedRun[], theory: string | undefined): LegendItem[] {
  const runs = named.map(({ name }, i) => ({
    name,
    mark: `series-${(i % 4) + 1}`,
    shape: i % 2 === 0 ? '●' : '■',
  }))
  const shown = runs.length > 1 ? runs : []
  return theory === undefined
    ? shown
    : [...shown, { name: `Plant file: ${theory}`, mark: 'line-mark line-mark-theory', theory }]
}

/** Every figure of the points over the same abscissa, e.g. torque and power from a run for efficiency. */
function ordinatesOf(reply: PointRunReply): FigureDescription[] {
  const { figures, abscissa, ordinate } = reply.trial
  return figures.filter(
    (figure) => figure.id !== abscissa && (figure.id === ordinate || isWorthDrawing(figure, reply)),
  )
}

/** Switches and constants, such as gravity, stand in every point but say nothing over the abscissa. */
function isWorthDrawing({ id, discrete }: FigureDescription, { points }: PointRunReply): boolean {
  if (discrete) return false
  const means = points.flatMap((point) => figureOf(point, id)?.mean ?? [])
  return (
    means.length > 0 && (means.length === 1 || new Set(means.map((mean) => mean.toPrecision(9))).size > 1)
  )
}

/** Constants of other curves through the same points. */
function furtherOf({ further }: PointRunReply['findings']): FittedParameter[] {
  return further.flatMap(({ name, result }) =>
    result.isFitted ? result.parameters.map((parameter) => ({ ...parameter, name })) : [],
  )
}

function Parameters({ parameters }: { parameters: readonly FittedParameter[] }) {
  if (parameters.length === 0) return null
  return (
    <dl class="facts">
      {parameters.map((one) => (
        <Fact
          key={`${one.name} ${one.symbol}`}
          word={one.name}
          data-parameter={one.symbol}
          data-wire={one.value}
        >
          <FigureSymbol symbol={one.symbol} /> ={' '}
          <b class="number">{withInterval(one, one.value, (one.high - one.low) / 2)}</b> {viewOf(one).print}
        </Fact>
      ))}
    </dl>
  )
}

function Fitted({ result, trial, kind }: { result: FittedCurve; trial: PointTrialView; kind: Kind }) {
  return (
    <div class="result">
      {result.best && (
        <p class="result-best">
          <b>Best point:</b> {bestWords(result.best, trial, kind)}
        </p>
      )}
      <Parameters parameters={result.parameters} />
      <p class="hint">
        {result.formula}; {result.points} points. The band and every ± hold 95 %: scatter and accuracy of the
        instruments together.
      </p>
    </div>
  )
}
