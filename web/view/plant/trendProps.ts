import type { Signal } from '@preact/signals'
import type { Session } from '../../connect/session.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import type { Trends } from '../../hold/trends.ts'
import type { TrendColumns } from '../../plot/trendChart.ts'

/** What the trends and each of their charts are given. */
export interface TrendProps {
  trends: Trends
  zone: string
  session: Session
}

export type TrendFigureProps = TrendProps & { figures: FigureHold[]; isTable: boolean }

export type CanvasProps = TrendFigureProps & {
  columns: Signal<TrendColumns>
  cursor: Signal<number | null>
  title: string
}
