import type { AlarmView, JournalEntry, JournalEvent } from '../wire/alarm.ts'
import { type AlarmMemory, NEVER_RAISED, NO_PLACE, withPast } from './alarmMemory.ts'
import { createDelay } from './delay.ts'
import type { Place } from './episodes/episodes.ts'
import { createOnset } from './episodes/onset.ts'
import type { ConditionState, RawSample } from './inputs.ts'
import type { AlarmSetting, ConditionWatcher, Moment } from './kinds/kind.ts'
import { type AlarmEvent, isActive, isWithheld, type Life, nextLife, shownState } from './lifeCycle.ts'

export { type AlarmMemory, NEVER_RAISED } from './alarmMemory.ts'

/** A step of the life cycle, before it has a place in the journal. */
export type Step = Omit<JournalEntry, 'sequence' | 'plant'>

/** Who acts, and when, and from where. */
export interface ActedBy {
  by: string
  at: number
  /** From where, e.g. "page at 127.0.0.1". */
  via?: string
  note?: string
}

/** What people can do with an alarm. */
export type Action =
  | { event: 'acknowledge' | 'reset' | 'unshelve' | 'takeOut' | 'putBack' }
  | { event: 'shelve'; until: number }

/** A condition that held long ago. */
export type PastCondition = Pick<ConditionState, 'value' | 'at' | 'quality'>

export interface Alarm {
  setting: AlarmSetting
  /** Quantities of which it wants every reading. */
  watches: readonly string[]
  /** Whether it wants those too that are late. */
  takesLate: boolean
  watchesDoubt: boolean
  /** The raw path; returns the steps taken, usually none. */
  take(sample: RawSample, mono: number): Step[]
  /** Judges a reading of long ago; undefined where the condition did not hold then. */
  judgePast(sample: RawSample): PastCondition | undefined
  /** What is past comes on the board as such; whatever goes on now stays as it is. */
  tellPast(past: PastCondition, toldAt: number): Step[]
  /** Judges everything else and ends a shelving whose time is over. */
  tick(moment: Moment): Step[]
  /** Undefined when that does nothing in the present state. */
  act(action: Action, actedBy: ActedBy, mono: number): Step[]
  view(): AlarmView
  memory(): AlarmMemory
  /** Where it stands in its episode, as found after a raise of its own or of another. */
  setPlace(place: Place): void
  /** It is judged by a reading beyond the range of its instrument, which is therefore not lost. */
  isBeyondRange(): boolean
  /** Whether the condition holds, also while nothing is announced. */
  isPresent(): boolean
  /** Changes whenever the view does. */
  version(): number
}

export interface AlarmOptions {
  isSimulated: boolean
  watcher: ConditionWatcher
  /** Time between two readings of what it watches [ms]; 0 for what is sent on change. */
  periodMs: number
  memory?: AlarmMemory
}

export function createAlarm(setting: AlarmSetting, { watcher, memory, ...fixed }: AlarmOptions): Alarm {
  let now: AlarmMemory = { ...NEVER_RAISED, ...memory }
  const delay = createDelay(setting.onDelayMs, setting.offDelayMs, isActive(now.life.announced))
  let condition: ConditionState = { holds: undefined, value: Number.NaN, at: 0, quality: 'bad' }
  let isPresent = isActive(now.life.announced)
  let isIdle = false
  const onset = createOnset(fixed.periodMs)
  let said: string | undefined
  let version = 0
  let shown: { version: number; view: AlarmView } | undefined
  /** A shelving ends by the monotonic clock too: a wall clock set back must not prolong it. */
  let shelfEndsMono: number | undefined

  function take(sample: RawSample, mono: number): Step[] {
    return watcher.takeSample ? accept(watcher.takeSample(sample), mono) : []
  }

  function tellPast({ value, at }: PastCondition, toldAt: number): Step[] {
    const from = shownState(now.life)
    const life = lifeAfter('toldLate')
    if (!life) return []
    version++
    now = withPast({ ...now, life }, { value, at, toldAt })
    const note = `told late, at ${new Date(toldAt).toISOString()}`
    return [{ ...headOf(), at, from, to: shownState(life), event: 'toldLate', value, note }]
  }

  function tick(moment: Moment): Step[] {
    const steps = expire(moment)
    setIdle(moment.isIdle)
    steps.push(...accept(watcher.judge(moment), moment.mono))
    return steps
  }

  function setIdle(next: boolean): void {
    if (next === isIdle) return
    isIdle = next
    now = {
      ...now,
      life: nextLife(now.life, isIdle ? 'suppress' : 'unsuppress', setting.latching) ?? now.life,
    }
    version++
  }

  /** A blank neither ends what is there nor holds back what is coming: nobody can say how it stands then. */
  function unknownWhereBlank(next: ConditionState): ConditionState {
    return next.isBlank && (isPresent || delay.isRising()) ? { ...next, holds: undefined } : next
  }

  function accept(judged: ConditionState, mono: number): Step[] {
    const next = unknownWhereBlank(judged)
    if ((next.holds === undefined) !== (condition.holds === undefined) || next.quality !== condition.quality)
      version++
    condition = next
    onset.update(next)
    say()
    if (isIdle) return settle(delay.update(false, mono))
    if (next.holds === undefined) return []
    return settle(delay.update(next.holds, mono))
  }

  /** Brings what is announced in line with the condition, unless somebody took the alarm off the list. */
  function settle(present: boolean, at = condition.at): Step[] {
    if (present !== isPresent) version++
    isPresent = present
    const steps: Step[] = []
    if (!isWithheld(now.life) && isPresent !== isActive(now.life.announced))
      steps.push(...step(isPresent ? 'raise' : 'return', at))
    if (isPresent && isActive(now.life.announced)) notePeak()
    return steps
  }

  function step(event: 'raise' | 'return', at: number): Step[] {
    const from = shownState(now.life)
    const life = lifeAfter(event)
    if (!life) return []
    const value = Number.isNaN(condition.value) ? null : condition.value
    const returnedAt = event === 'return' ? at : null
    now = { ...now, life, value, returnedAt, changedAt: Math.max(at, now.changedAt ?? 0) }
    if (event === 'raise') {
      const began = onset.span() ?? { from: at, to: at }
      const nobody = { acknowledgedAt: null, acknowledgedBy: null }
      now = { ...now, ...nobody, ...NO_PLACE, raisedAt: at, peak: value, peakAt: at, onset: began }
    }
    version++
    return [{ ...headOf(), at, from, to: shownState(life), event, value }]
  }

  /** A notice asks nobody to answer: it comes acknowledged. */
  function lifeAfter(event: AlarmEvent): Life | undefined {
    const life = nextLife(now.life, event, setting.latching)
    const isNews = event === 'raise' || event === 'toldLate'
    if (!life || setting.entry === 'alarm' || !isNews) return life
    return nextLife(life, 'acknowledge', setting.latching)
  }

  function headOf(): Pick<Step, 'alarm' | 'priority' | 'entry'> {
    return { alarm: setting.id, priority: setting.priority, entry: setting.entry }
  }

  function notePeak(): void {
    const { value, at } = condition
    if (Number.isNaN(value)) return
    if (now.peak !== null && !watcher.isWorse?.(value, now.peak)) return
    now = { ...now, peak: value, peakAt: at }
    version++
  }

  function expire({ now: wall, mono }: Moment): Step[] {
    if (!now.life.shelved || now.shelvedUntil === null) return []
    shelfEndsMono ??= mono + now.shelvedUntil - wall
    if (wall < now.shelvedUntil && mono < shelfEndsMono) return []
    return release('unshelve', 'shelfExpired', { by: 'Headrace', at: wall })
  }

  function act(action: Action, actedBy: ActedBy, mono: number): Step[] {
    const { event } = action
    if (event === 'unshelve' || event === 'putBack') return release(event, event, actedBy)
    const from = shownState(now.life)
    const life = nextLife(now.life, event, setting.latching)
    if (!life) return []
    now = { ...now, life, changedAt: actedBy.at }
    if (event === 'acknowledge') now = { ...now, acknowledgedAt: actedBy.at, acknowledgedBy: actedBy.by }
    if (event === 'shelve' || event === 'takeOut') {
      const until = event === 'shelve' ? action.until : null
      now = {
        ...now,
        withheld: { by: actedBy.by, at: actedBy.at, reason: actedBy.note ?? '' },
        shelvedUntil: until,
      }
      shelfEndsMono = until === null ? undefined : mono + until - actedBy.at
    }
    version++
    const more = event === 'shelve' ? { until: action.until } : {}
    return [{ ...headOf(), ...actedBy, ...more, from, to: shownState(life), event, value: now.value }]
  }

  /** Back on the list; what holds by then is raised anew. */
  function release(event: 'unshelve' | 'putBack', word: JournalEvent, actedBy: ActedBy): Step[] {
    const from = shownState(now.life)
    const life = nextLife(now.life, event, setting.latching)
    if (!life) return []
    now = { ...now, life, changedAt: actedBy.at, withheld: null, shelvedUntil: null }
    shelfEndsMono = undefined
    version++
    const back: Step = { ...headOf(), ...actedBy, from, to: shownState(life), event: word, value: now.value }
    return [back, ...settle(isPresent, actedBy.at)]
  }

  function say(): void {
    const next = watcher.detail?.()
    if (next === said) return
    said = next
    version++
  }

  /** Made once for each version: it is asked for every second, and changes seldom. */
  function view(): AlarmView {
    if (shown?.version !== version) shown = { version, view: makeView() }
    return shown.view
  }

  function makeView(): AlarmView {
    const { id, name, entry, kind, priority, figure, limit, latching, group } = setting
    const { life, ...rest } = now
    return {
      ...rest,
      id,
      name,
      entry,
      kind: kind.id,
      priority,
      figure,
      condition: setting.condition,
      latching,
      group,
      ...(limit === undefined ? {} : { limit }),
      ...(said === undefined ? {} : { detail: said }),
      state: shownState(life),
      active: isPresent,
      unknown: !isIdle && condition.holds === undefined,
      quality: condition.quality,
      longestShelfMs: setting.longestShelfMs,
      hasAmount: kind.hasAmount,
      tellsOfLoss: kind.lossOf !== undefined,
      isForSafety: entry === 'alarm' && (priority === 'high' || kind.isForSafety),
      simulated: fixed.isSimulated,
      ...setting.texts,
    }
  }

  return {
    setting,
    ...wishesOf(watcher),
    take,
    tellPast,
    tick,
    act,
    view,
    memory: () => now,
    isPresent: () => isPresent,
    isBeyondRange: () => condition.isBeyondRange === true,
    setPlace({ episode, after, because }) {
      if (episode === now.episode && after === now.after && because === now.because) return
      now = { ...now, episode, after, because }
      version++
    },
    version: () => version,
  }
}

/** Which readings it wants, and what it says of those of the past. */
function wishesOf(
  watcher: ConditionWatcher,
): Pick<Alarm, 'watches' | 'takesLate' | 'watchesDoubt' | 'judgePast'> {
  const { watches = [], takesLate = false, watchesDoubt = false } = watcher
  return { watches, takesLate, watchesDoubt, judgePast: (sample) => watcher.judgePast?.(sample) }
}
