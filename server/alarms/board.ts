import type { FigureLookupById } from '../derive/lookup.ts'
import type { Reading } from '../ingest/reading.ts'
import { type AlarmView, isUnacknowledged, type JournalEntry } from '../wire/alarm.ts'
import { watchersOf } from '../wire/groupBy.ts'
import type { MachineState } from '../wire/plant.ts'
import { type ActedBy, type Action, type Alarm, type AlarmMemory, createAlarm, type Step } from './alarm.ts'
import type { EventTrace } from './events/recorder.ts'
import { createFirstOut } from './firstOut.ts'
import { createFloodWatch, FLOOD_NOTICE, type FloodWatch, floodView } from './flood.ts'
import { type RawSample, rawSampleOf } from './inputs.ts'
import type { AlarmSetting, CounterLookup, Moment } from './kinds/kind.ts'
import { isActive } from './lifeCycle.ts'

/** Keeps the journal and what alarms must remember. */
export interface AlarmJournal {
  /** Stores the step and the alarm's memory together; returns the entry with its place in the journal. */
  record(plant: string, step: Step, memory: AlarmMemory): JournalEntry
  memoryOf(plant: string, alarm: string): AlarmMemory | undefined
}

export interface BoardOptions {
  plant: { id: string; simulated: boolean }
  settings: readonly AlarmSetting[]
  figures: FigureLookupById
  journal: AlarmJournal
  mono: () => number
  counters: CounterLookup
  /** What the machine is doing, for conditions such as "running". */
  state: () => MachineState
  /** Shared by all plants of one operator. */
  flood?: FloodWatch
  /** Keeps traces of over-speed and trips. */
  trace?: EventTrace
  /** Called at once on every step, before anything else happens with it. */
  onTransition: (alarm: AlarmView, entry: JournalEntry) => void
}

/** All alarms of one plant. */
export interface AlarmBoard {
  /** The raw path: call for every reading as it arrives, before anything else is done with it. */
  takeReading(reading: Reading): void
  /** Judges everything else; call after the figures were evaluated. */
  tick(now: number): void
  /** The alarm after the action, or undefined for an unknown id. Repeating an action changes nothing. */
  act(alarm: string, action: Action, actedBy: ActedBy): AlarmView | undefined
  views(): AlarmView[]
  /** Views that changed since the call before. */
  takeChanged(): AlarmView[]
}

export function createAlarmBoard(options: BoardOptions): AlarmBoard {
  const { plant, settings, figures, journal, mono, onTransition, trace } = options
  const { counters, state, flood = createFloodWatch() } = options
  const alarms = settings.map((setting) => open(setting))
  const byId = new Map(alarms.map((alarm) => [alarm.setting.id, alarm]))
  const byQuantity = watchersOf(alarms)
  const ofDoubt = alarms.filter((alarm) => alarm.watchesDoubt)
  const firstOut = createFirstOut()
  const shownVersion = new Map<Alarm, number>()
  let shownFlood = ''
  let lastReadingMono = Number.NEGATIVE_INFINITY

  function open(setting: AlarmSetting): Alarm {
    const memory = journal.memoryOf(plant.id, setting.id)
    const watcher = setting.open({
      figures,
      counters,
      wasHeld: memory !== undefined && isActive(memory.life.announced),
      evaluate: (expression) => expression.evaluate(figures, state()),
    })
    return createAlarm(setting, { isSimulated: plant.simulated, watcher, ...(memory ? { memory } : {}) })
  }

  function takeReading(reading: Reading): void {
    const sample = rawSampleOf(reading)
    if (!sample) return
    let isHeard = !sample.isLate
    for (const alarm of byQuantity.get(sample.quantity) ?? []) {
      if (sample.isLate && !alarm.takesLate) continue
      isHeard = true
      offer(alarm, sample)
    }
    if (sample.doubt) for (const alarm of ofDoubt) offer(alarm, sample)
    if (!sample.isLate) lastReadingMono = mono()
    if (isHeard) trace?.take(sample)
  }

  function offer(alarm: Alarm, sample: RawSample): void {
    advance(alarm, () => alarm.take(sample, mono()), sample.at)
  }

  function tick(now: number): void {
    const time = mono()
    const moment = { now, mono: time, quietMs: time - lastReadingMono }
    for (const alarm of alarms) {
      const full: Moment = { ...moment, isIdle: isIdle(alarm.setting) }
      advance(alarm, () => alarm.tick(full), now)
    }
    trace?.tick(now)
  }

  /** Nobody knows whether it means something: then it does. */
  function isIdle({ while: condition }: AlarmSetting): boolean {
    return condition?.evaluate(figures, state()) === 0
  }

  function advance(alarm: Alarm, takeSteps: () => Step[], at: number): void {
    const before = alarm.isPresent()
    const steps = takeSteps()
    if (alarm.isPresent() !== before) {
      const value = alarm.view().value
      trace?.condition(alarm.setting, { isPresent: !before, at: steps[0]?.at ?? at, value })
    }
    for (const step of steps) record(alarm, step)
  }

  function record(alarm: Alarm, step: Step): void {
    const entry = journal.record(plant.id, withFirst(alarm, step), alarm.memory())
    onTransition(alarm.view(), entry)
  }

  function withFirst({ setting }: Alarm, step: Step): Step {
    if (step.event !== 'raise') return step
    if (setting.entry === 'alarm') flood.raised(mono(), step.at)
    if (setting.group === null) return step
    const followings = firstOut.raised(setting.group, setting.id, step.at)
    for (const [id, first] of followings) byId.get(id)?.setAfter(first)
    const after = followings.get(setting.id)
    return after ? { ...step, after } : step
  }

  function act(id: string, action: Action, actedBy: ActedBy): AlarmView | undefined {
    const alarm = byId.get(id)
    for (const step of alarm?.act(action, actedBy, mono()) ?? []) record(alarm!, step)
    return alarm?.view()
  }

  function views(): AlarmView[] {
    return [...alarms.map((alarm) => alarm.view()), floodView(flood.stateAt(mono()), plant.simulated)]
  }

  function takeChanged(): AlarmView[] {
    const changed = alarms.filter((alarm) => shownVersion.get(alarm) !== alarm.version())
    for (const alarm of changed) shownVersion.set(alarm, alarm.version())
    const view = floodView(flood.stateAt(mono()), plant.simulated)
    const shown = `${view.state}${view.detail}`
    const isFloodNew = shown !== shownFlood
    shownFlood = shown
    return [...changed.map((alarm) => alarm.view()), ...(isFloodNew ? [view] : [])]
  }

  return { takeReading, tick, act, takeChanged, views }
}

/** Alarms that are not acknowledged and that are active; notices and what is off the list do not count. */
export function countAlarms(views: readonly AlarmView[]): { unacknowledged: number; active: number } {
  const listed = views.filter((view) => view.entry === 'alarm' && view.id !== FLOOD_NOTICE)
  return {
    unacknowledged: listed.filter((view) => isUnacknowledged(view.state)).length,
    active: listed.filter((view) => isActive(view.state)).length,
  }
}
