import type { Signal } from '@preact/signals'
import type { Session } from '../../connect/session.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import type { Trends } from '../../hold/trends.ts'
import type { ChartColumns } from '../../plot/chart.ts'

/** What the trends and each of their charts are given. */
export interface TrendProps {
  trends: Trends
  zone: string
  session: Session
}

export type TrendChartProps = TrendProps & { figures: FigureHold[]; isTable: boolean }

export type CanvasProps = TrendChartProps & {
  columns: Signal<ChartColumns>
  cursor: Signal<number | null>
  title: string
}
