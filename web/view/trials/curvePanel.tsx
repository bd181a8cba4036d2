import { type Signal, useSignal } from '@preact/signals'
import { titleWithUnit, withInterval } from '../../../server/wire/amounts.ts'
import type { FigureDescription } from '../../../server/wire/figure.ts'
import type { FittedCurve } from '../../../server/wire/findings.ts'
import type { PointRunReply, PointTrialView, RunSummary } from '../../../server/wire/trial.ts'
import { usePolled } from '../../connect/poll.ts'
import { trialRequests } from '../../connect/trialRequests.ts'
import { Chart, curveChart } from '../parts/chart.tsx'
import { Panel } from '../parts/panel.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'
import { ComparisonPart } from './comparisonPart.tsx'
import { axesOf, bestWords, drawRun, type Kind, resultOf, theoryOf } from './drawRun.ts'
import type { PointRunProps } from './runProps.ts'
import { type NamedRun, seriesRuns } from './seriesRuns.ts'

const LIST_MS = 15_000

/** The curve so far with its band and best point, and other runs laid over it. */
export function CurvePanel({ reply, hold }: PointRunProps) {
  const kind = useSignal<Kind>('actual')
  const others = useSignal<PointRunReply[]>([])
  /** Drawn in place of the ordinate. */
  const other = useSignal<string | null>(null)
  const { trial, points } = reply
  const result = resultOf(reply, kind.value)
  const [xId, ordinate] = axesOf(trial, kind.value)
  const [x, y] = [xId, other.value ?? ordinate].map((id) => trial.figures.find((figure) => figure.id === id))
  const named = [reply, ...others.value].flatMap(seriesRuns)
  const drawn = named.map(({ run }) => drawRun(run, kind.value, other.value))
  const hasSeries = reply.findings.series.length > 0
  return (
    <Panel id="curve" title="Curve" aside={trial.unitAbscissa !== null && <KindChoice kind={kind} />}>
      {x && y && (
        <Chart
          kind={curveChart}
          drawn={{ x: titleWithUnit(x), y: titleWithUnit(y), runs: drawn }}
          label={`${titleWithUnit(y)} over ${titleWithUnit(x)}. The table of points has the numbers.`}
          class="curve-canvas"
        />
      )}
      {drawn[0]?.theory && <TheoryNote from={theoryOf(reply, kind.value)?.from ?? ''} />}
      {named.length > 1 && <Legend runs={named} />}
      {points.length > 0 && !hasSeries && result && !result.isFitted && (
        <p class="quiet">No curve yet: {result.lacking}</p>
      )}
      {!hasSeries && result?.isFitted && other.value === null && (
        <Result result={result} trial={trial} kind={kind.value} />
      )}
      {other.value === null && <Further further={reply.findings.further} />}
      {points.length > 0 && reply.findings.comparison && (
        <ComparisonPart comparison={reply.findings.comparison} trial={trial} />
      )}
      {points.length > 0 && <OrdinateChoice reply={reply} other={other} />}
      <Overlay plant={hold.view.id} run={reply.run} others={others} />
    </Panel>
  )
}

function KindChoice({ kind }: { kind: Signal<Kind> }) {
  return (
    <span class="kinds">
      {(['actual', 'unit'] as const).map((one) => (
        <button
          key={one}
          type="button"
          class="press press-small"
          aria-pressed={kind.value === one}
          onClick={() => (kind.value = one)}
        >
          {one === 'actual' ? 'As measured' : 'Unit quantities'}
        </button>
      ))}
    </span>
  )
}

/** Every other figure of the points over the same abscissa, e.g. torque and power from a run for efficiency. */
function OrdinateChoice({ reply, other }: { reply: PointRunReply; other: Signal<string | null> }) {
  const { trial } = reply
  const choices = trial.figures.filter(
    (figure) =>
      figure.id !== trial.abscissa && (figure.id === trial.ordinate || isWorthDrawing(figure, reply)),
  )
  return (
    <p class="field ordinate">
      <label for="ordinate">Drawn upwards</label>
      <select
        id="ordinate"
        value={other.value ?? trial.ordinate}
        onChange={({ currentTarget: { value } }) => {
          other.value = value === trial.ordinate ? null : value
        }}
      >
        {choices.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
    </p>
  )
}

/** Switches and constants, such as gravity, stand in every point but say nothing over the abscissa. */
function isWorthDrawing({ id, discrete }: FigureDescription, { points }: PointRunReply): boolean {
  if (discrete) return false
  const means = points.flatMap(({ figures }) => figures.find((figure) => figure.id === id)?.mean ?? [])
  return (
    means.length > 0 && (means.length === 1 || new Set(means.map((mean) => mean.toPrecision(9))).size > 1)
  )
}

function TheoryNote({ from }: { from: string }) {
  return (
    <p class="theory-note" data-theory={from}>
      <span class="theory-mark" aria-hidden="true" />
      Plant file: {from}
    </p>
  )
}

function Legend({ runs }: { runs: NamedRun[] }) {
  return (
    <ul class="curve-legend">
      {runs.map(({ name }, i) => (
        <li key={`${i} ${name}`}>
          <span class={`legend-mark legend-mark-${i % 4}`} aria-hidden="true">
            {i % 2 === 0 ? '●' : '■'}
          </span>
          {name}
        </li>
      ))}
    </ul>
  )
}

/** Constants of other curves through the same points. */
function Further({ further }: { further: PointRunReply['findings']['further'] }) {
  const known = further.flatMap(({ name, result }) =>
    result.isFitted ? result.parameters.map((parameter) => ({ name, parameter })) : [],
  )
  if (known.length === 0) return null
  return (
    <dl class="facts">
      {known.map(({ name, parameter }) => (
        <div key={`${name} ${parameter.symbol}`} data-parameter={parameter.symbol}>
          <dt>{name}</dt>
          <dd>
            <FigureSymbol symbol={parameter.symbol} /> ={' '}
            <b class="number">
              {withInterval(parameter, parameter.value, (parameter.high - parameter.low) / 2)}
            </b>{' '}
            {unitText(parameter.unit, parameter.viewUnit)}
          </dd>
        </div>
      ))}
    </dl>
  )
}

function Result({ result, trial, kind }: { result: FittedCurve; trial: PointTrialView; kind: Kind }) {
  return (
    <div class="result">
      {result.best && (
        <p class="result-best">
          <b>Best point:</b> {bestWords(result.best, trial, kind)}
        </p>
      )}
      {result.parameters.length > 0 && (
        <dl class="facts">
          {result.parameters.map((parameter) => (
            <div key={parameter.symbol} data-parameter={parameter.symbol} data-wire={parameter.value}>
              <dt>{parameter.name}</dt>
              <dd>
                <FigureSymbol symbol={parameter.symbol} /> ={' '}
                <b class="number">
                  {withInterval(parameter, parameter.value, (parameter.high - parameter.low) / 2)}
                </b>{' '}
                {unitText(parameter.unit, parameter.viewUnit)}
              </dd>
            </div>
          ))}
        </dl>
      )}
      <p class="hint">
        {result.formula}; {result.points} points. The band and every ± hold 95 %: scatter and accuracy of the
        instruments together.
      </p>
    </div>
  )
}

function unitText(unit: string, viewUnit: string): string {
  return titleWithUnit({ name: '', unit, viewUnit } as FigureDescription).replace(/[[\] ]/g, '')
}

const MOST_OTHERS = 3

/** Saved runs of the same trial, to be laid over this one. */
function Overlay({
  plant,
  run,
  others,
}: {
  plant: string
  run: RunSummary
  others: Signal<PointRunReply[]>
}) {
  const asked = usePolled(() => trialRequests.runs(plant, { trial: run.trial }), LIST_MS, [plant, run.trial])
  const runs = (asked.reply.value?.runs ?? []).filter((one) => one.id !== run.id)
  if (runs.length === 0) return null
  const isShown = (id: number) => others.value.some((one) => one.run.id === id)
  const toggle = async (id: number) => {
    if (isShown(id)) others.value = others.value.filter((one) => one.run.id !== id)
    else {
      const answer = await trialRequests.run(plant, id)
      if (answer.ok && answer.reply.takes === 'points' && !isShown(id))
        others.value = [...others.value, answer.reply].slice(-MOST_OTHERS)
    }
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
