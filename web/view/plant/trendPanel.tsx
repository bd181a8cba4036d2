import { useSignal } from '@preact/signals'
import { useMemo } from 'preact/hooks'
import { counted } from '../../format/words.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import { chartGroups, SPANS, type Trends } from '../../hold/trends.ts'
import { Button } from '../parts/button.tsx'
import { Fold, isNarrow } from '../parts/fold.tsx'
import { Panel } from '../parts/panel.tsx'
import type { TrendProps } from './trendColumns.ts'
import { TrendFigure } from './trendFigure.tsx'

/** Charts that a phone shows without being asked. */
const FIRST_ON_PHONE = 3

/** How the figures got where they are: one chart for each unit. */
export function TrendPanel(props: TrendProps) {
  const { trends } = props
  const isTable = useSignal(false)
  const groups = useMemo(() => chartGroups(trends.figures), [trends])
  if (groups.length === 0) return null
  const first = isNarrow.value ? FIRST_ON_PHONE : groups.length
  return (
    <Panel
      id="trends"
      title="Trends"
      aside={
        <div class="buttons trend-tools">
          <SpanChoice trends={trends} />
          <Button
            isSmall
            aria-pressed={isTable.value}
            action="trendTable"
            onClick={() => (isTable.value = !isTable.value)}
          >
            Table
          </Button>
        </div>
      }
    >
      {trends.error.value && (
        <p class="quiet">The history could not be read ({trends.error.value}); what comes live is drawn.</p>
      )}
      <Charts groups={groups.slice(0, first)} isTable={isTable.value} {...props} />
      {groups.length > first && (
        <Fold title="More trends" note={counted(groups.length - first, 'chart')}>
          <Charts groups={groups.slice(first)} isTable={isTable.value} {...props} />
        </Fold>
      )}
    </Panel>
  )
}

function Charts({ groups, ...props }: TrendProps & { groups: FigureHold[][]; isTable: boolean }) {
  return (
    <div class="trend-charts">
      {groups.map((figures) => (
        <TrendFigure
          key={figures.map((figure) => figure.description.id).join()}
          figures={figures}
          {...props}
        />
      ))}
    </div>
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
