import type { AlarmPriority } from '../wire/alarm.ts'
import type { PlantExpression } from './expression.ts'
import type { AlarmKind, KindReading } from './kinds/kind.ts'

/** An alarm of the plant file, ready to be watched. */
export interface AlarmSetting extends KindReading {
  id: string
  name: string
  entry: 'alarm' | 'notice'
  kind: AlarmKind
  /** The figure to show with it; "" where there is none. */
  figure: string
  priority: AlarmPriority
  latching: boolean
  onDelayMs: number
  offDelayMs: number
  /** Condition without which it means nothing. */
  while?: PlantExpression
  group: string | null
  longestShelfMs: number
  /** Whether a trace is kept when it is raised. */
  isRecorded: boolean
  cause?: string
  consequence?: string
  action?: string
}
