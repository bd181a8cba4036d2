import { useSignal } from '@preact/signals'
import { chartGroups, SPANS, type Trends } from '../../hold/trends.ts'
import { Panel } from '../parts/panel.tsx'
import { TrendChart } from './trendChart.tsx'
import type { TrendProps } from './trendProps.ts'

/** How the figures got where they are: one chart for each unit. */
export function TrendPanel(props: TrendProps) {
  const { trends } = props
  const isTable = useSignal(false)
  if (trends.figures.length === 0) return null
  return (
    <Panel
      id="trends"
      title="Trends"
      aside={
        <div class="trend-tools">
          <SpanChoice trends={trends} />
          <button
            type="button"
            class="press press-small"
            aria-pressed={isTable.value}
            data-action="trendTable"
            onClick={() => {
              isTable.value = !isTable.value
            }}
          >
            Table
          </button>
        </div>
      }
    >
      {trends.error.value && (
        <p class="quiet">The history could not be read ({trends.error.value}); what comes live is drawn.</p>
      )}
      <div class="trend-charts">
        {chartGroups(trends.figures).map((figures) => (
          <TrendChart
            key={figures.map((figure) => figure.description.id).join()}
            figures={figures}
            isTable={isTable.value}
            {...props}
          />
        ))}
      </div>
    </Panel>
  )
}

function SpanChoice({ trends }: { trends: Trends }) {
  return (
    <fieldset class="spans">
      <legend class="spoken">Time span</legend>
      {SPANS.map((span) => (
        <label key={span.id}>
          <input
            type="radio"
            name="span"
            data-span={span.id}
            checked={trends.span.value === span}
            onChange={() => {
              trends.span.value = span
            }}
          />
          <span>{span.name}</span>
        </label>
      ))}
    </fieldset>
  )
}
