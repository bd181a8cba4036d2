import type { AlarmView } from '../wire/alarm.ts'
import { isActive, type Life, NEW_LIFE } from './lifeCycle.ts'

export const NO_PLACE = { after: null, because: null }

/** What is remembered of one alarm across restarts. */
export interface AlarmMemory
  extends Pick<
      AlarmView,
      'value' | 'peak' | 'peakAt' | 'raisedAt' | 'returnedAt' | 'changedAt' | 'shelvedUntil' | 'withheld'
    >,
    Pick<AlarmView, 'acknowledgedAt' | 'acknowledgedBy' | 'episode' | 'after' | 'because' | 'onset'> {
  life: Life
}

export const NEVER_RAISED: AlarmMemory = {
  life: NEW_LIFE,
  value: null,
  peak: null,
  peakAt: null,
  raisedAt: null,
  returnedAt: null,
  changedAt: null,
  acknowledgedAt: null,
  acknowledgedBy: null,
  shelvedUntil: null,
  withheld: null,
  episode: null,
  ...NO_PLACE,
  onset: null,
}

/** After it was told that the condition held long ago; while it holds now, that is what is shown. */
export function withPast(
  memory: AlarmMemory,
  { value, at, toldAt }: { value: number; at: number; toldAt: number },
): AlarmMemory {
  if (isActive(memory.life.announced)) return memory
  const nobody = { acknowledgedAt: null, acknowledgedBy: null }
  const past = {
    raisedAt: at,
    returnedAt: at,
    episode: null,
    onset: { from: at, to: at },
    peak: value,
    peakAt: at,
    value,
  }
  return { ...memory, ...nobody, ...NO_PLACE, ...past, changedAt: Math.max(toldAt, memory.changedAt ?? 0) }
}
