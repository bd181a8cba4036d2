import type { Reading } from '../ingest/reading.ts'
import type { AlarmView, JournalEntry } from '../wire/alarm.ts'
import type { Quality } from '../wire/figure.ts'
import { type Alarm, type AlarmMemory, createAlarm, type Observation, type Step } from './alarm.ts'
import type { AlarmSetting } from './settings.ts'

/** Where alarms look up figures on every tick. */
export interface FigureLookup {
  value(figure: string): number
  quality(figure: string): Quality
  at(figure: string): number
  /** Longest time [ms] without a new value before it counts as stale. */
  staleAfterMs(figure: string): number
  /** False for a figure that comes straight from an instrument. */
  isDerived(figure: string): boolean
}

/** Keeps the journal and what alarms must remember. */
export interface AlarmJournal {
  /** Stores the step and the alarm's memory together; returns the entry with its place in the journal. */
  record(plant: string, step: Step, memory: AlarmMemory): JournalEntry
  memoryOf(plant: string, alarm: string): AlarmMemory | undefined
}

export interface BoardOptions {
  plant: { id: string; simulated: boolean }
  settings: readonly AlarmSetting[]
  figures: FigureLookup
  journal: AlarmJournal
  mono: () => number
  /** Called at once on every step, before anything else happens with it. */
  onTransition: (alarm: AlarmView, entry: JournalEntry) => void
}

export interface Who {
  by: string
  at: number
  note?: string
}

/** All alarms of one plant. */
export interface AlarmBoard {
  /** The raw path: call for every reading as it arrives, before anything else is done with it. */
  takeReading(reading: Reading): void
  /** Judges everything else; call after the figures were evaluated. */
  tick(now: number): void
  /** The alarm after the action, or undefined for an unknown id. Repeating an action changes nothing. */
  act(alarm: string, event: 'acknowledge' | 'reset', who: Who): AlarmView | undefined
  views(): AlarmView[]
  /** Views that changed since the call before. */
  takeChanged(): AlarmView[]
}

export function createAlarmBoard(options: BoardOptions): AlarmBoard {
  const { plant, settings, figures, journal, mono, onTransition } = options
  const alarms = settings.map((setting) =>
    createAlarm(setting, plant.simulated, journal.memoryOf(plant.id, setting.id)),
  )
  const byId = new Map(alarms.map((alarm) => [alarm.setting.id, alarm]))
  const rawAlarms = alarms.filter(({ setting }) => setting.kind.isRaw && !figures.isDerived(setting.figure))
  const rawByFigure = new Map<string, Alarm[]>()
  for (const alarm of rawAlarms)
    rawByFigure.set(alarm.setting.figure, [...(rawByFigure.get(alarm.setting.figure) ?? []), alarm])
  const lastRaw = new Map<Alarm, Observation>()
  const shownVersion = new Map<Alarm, number>()

  function takeReading(reading: Reading): void {
    const watching = rawByFigure.get(reading.quantity)
    if (!watching || reading.ageUnknown || reading.late) return
    const value = reading.peak === undefined ? reading.value : Math.max(reading.value, reading.peak)
    for (const alarm of watching) {
      const observation = { value, at: reading.measuredAt, quality: rawQuality(alarm, reading, value) }
      lastRaw.set(alarm, observation)
      offer(alarm, observation)
    }
  }

  /** A bad reading (beyond the range of the instrument) may raise the alarm, but it never clears one. */
  function rawQuality({ setting }: Alarm, { quality }: Reading, value: number): Quality {
    return quality === 'bad' && setting.kind.holds(value, setting, false) ? 'uncertain' : quality
  }

  function tick(now: number): void {
    for (const alarm of alarms) offer(alarm, observationOf(alarm, now))
  }

  /** Raw alarms keep the last raw value on a tick (their off-delay runs on) and go unknown when it is stale. */
  function observationOf(alarm: Alarm, now: number): Observation {
    const { figure } = alarm.setting
    const raw = lastRaw.get(alarm)
    if (raw && now - raw.at <= figures.staleAfterMs(figure)) return { ...raw, at: now }
    const quality = figures.quality(figure)
    if (quality === 'bad') return { value: Number.NaN, at: now, quality }
    return { value: figures.value(figure), at: figures.at(figure) || now, quality }
  }

  function offer(alarm: Alarm, observation: Observation): void {
    for (const step of alarm.observe(observation, mono())) record(alarm, step)
  }

  function record(alarm: Alarm, step: Step): void {
    const entry = journal.record(plant.id, step, alarm.memory())
    onTransition(alarm.view(), entry)
  }

  function act(id: string, event: 'acknowledge' | 'reset', who: Who): AlarmView | undefined {
    const alarm = byId.get(id)
    const step = alarm?.act(event, who)
    if (alarm && step) record(alarm, step)
    return alarm?.view()
  }

  function takeChanged(): AlarmView[] {
    const changed = alarms.filter((alarm) => shownVersion.get(alarm) !== alarm.version())
    for (const alarm of changed) shownVersion.set(alarm, alarm.version())
    return changed.map((alarm) => alarm.view())
  }

  return { takeReading, tick, act, takeChanged, views: () => alarms.map((alarm) => alarm.view()) }
}
