import type { AlarmState, AlarmView, JournalEntry } from '../wire/alarm.ts'
import type { Quality } from '../wire/figure.ts'
import { createDelay } from './delay.ts'
import { type AlarmEvent, isActive, nextState } from './lifeCycle.ts'
import type { AlarmSetting } from './settings.ts'

/** What is remembered of one alarm across restarts. */
export interface AlarmMemory {
  state: AlarmState
  value: number | null
  peak: number | null
  peakAt: number | null
  raisedAt: number | null
  changedAt: number | null
  acknowledgedAt: number | null
  acknowledgedBy: string | null
}

export const NEVER_RAISED: AlarmMemory = {
  state: 'normal',
  value: null,
  peak: null,
  peakAt: null,
  raisedAt: null,
  changedAt: null,
  acknowledgedAt: null,
  acknowledgedBy: null,
}

/** One value offered to an alarm. NaN: nothing to judge. */
export interface Observation {
  value: number
  at: number
  quality: Quality
}

/** A step of the life cycle, before it has a place in the journal. */
export type Step = Omit<JournalEntry, 'sequence' | 'plant'>

export interface Alarm {
  setting: AlarmSetting
  /** Judges a value; returns the steps taken, usually none. */
  observe(observation: Observation, mono: number): Step[]
  /** Acknowledge or reset; undefined when that does nothing in the present state. */
  act(event: 'acknowledge' | 'reset', who: { by: string; at: number; note?: string }): Step | undefined
  view(): AlarmView
  memory(): AlarmMemory
  /** Changes whenever the view does. */
  version(): number
}

export function createAlarm(setting: AlarmSetting, isSimulated: boolean, memory = NEVER_RAISED): Alarm {
  const { kind } = setting
  const delay = createDelay(setting.onDelayMs, setting.offDelayMs, isActive(memory.state))
  let now = { ...memory }
  let quality: Quality = 'bad'
  let isUnknown = true
  /** Before the first value nothing was lost and nothing comes back. */
  let wasKnown = false
  let wasPresent = isActive(memory.state)
  let version = 0

  function observe(observation: Observation, mono: number): Step[] {
    const steps: Step[] = []
    quality = observation.quality
    const lost = observation.quality === 'bad'
    if (lost !== isUnknown) {
      if (wasKnown) steps.push(stay(lost ? 'inputLost' : 'inputBack', observation.at))
      wasKnown = true
      isUnknown = lost
      version++
    }
    if (lost) return steps
    const holds = !Number.isNaN(observation.value) && kind.holds(observation.value, setting, wasPresent)
    const isPresent = delay.update(holds, mono)
    if (isPresent !== isActive(now.state)) steps.push(...step(isPresent ? 'raise' : 'return', observation))
    wasPresent = holds
    if (isPresent) notePeak(observation)
    return steps
  }

  function step(event: AlarmEvent, { value, at }: Observation): Step[] {
    const to = nextState(now.state, event, setting.latching)
    if (to === undefined) return []
    const from = now.state
    const shown = Number.isNaN(value) ? null : value
    now = { ...now, state: to, value: shown, changedAt: at }
    if (event === 'raise') {
      now = { ...now, raisedAt: at, peak: shown, peakAt: at, acknowledgedAt: null, acknowledgedBy: null }
    }
    version++
    return [{ at, alarm: setting.id, from, to, event: event as 'raise' | 'return', value: shown }]
  }

  function notePeak({ value, at }: Observation): void {
    if (now.peak !== null && !kind.isWorse(value, now.peak)) return
    now = { ...now, peak: value, peakAt: at }
    version++
  }

  function stay(event: 'inputLost' | 'inputBack', at: number): Step {
    return { at, alarm: setting.id, from: now.state, to: now.state, event, value: null }
  }

  function act(
    event: 'acknowledge' | 'reset',
    who: { by: string; at: number; note?: string },
  ): Step | undefined {
    const to = nextState(now.state, event, setting.latching)
    if (to === undefined) return undefined
    const from = now.state
    now = { ...now, state: to, changedAt: who.at }
    if (event === 'acknowledge') now = { ...now, acknowledgedAt: who.at, acknowledgedBy: who.by }
    version++
    return { ...who, alarm: setting.id, from, to, event, value: now.value }
  }

  function view(): AlarmView {
    const { id, name, priority, figure, limit, latching, cause, consequence, action } = setting
    return {
      ...now,
      ...{ id, name, priority, figure, limit, latching, quality },
      active: isActive(now.state),
      unknown: isUnknown,
      simulated: isSimulated,
      ...(cause === undefined ? {} : { cause }),
      ...(consequence === undefined ? {} : { consequence }),
      ...(action === undefined ? {} : { action }),
    }
  }

  return { setting, observe, act, view, memory: () => now, version: () => version }
}
