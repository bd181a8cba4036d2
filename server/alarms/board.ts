import type { FigureLookupById } from '../derive/lookup.ts'
import type { Plan } from '../derive/plan.ts'
import type { Reading } from '../ingest/reading.ts'
import { type AlarmView, isUnacknowledged, type JournalEntry } from '../wire/alarm.ts'
import { watchersOf } from '../wire/groupBy.ts'
import type { MachineState } from '../wire/plant.ts'
import { type ActedBy, type Action, type Alarm, type AlarmMemory, createAlarm, type Step } from './alarm.ts'
import { causePathsOf, periodOf, shownBy } from './episodes/causePaths.ts'
import { type Member, placeRaised, placesOf } from './episodes/episodes.ts'
import type { EventTrace } from './events/recorder.ts'
import { createFloodWatch, FLOOD_NOTICE, type FloodWatch, floodView } from './flood.ts'
import { type RawSample, rawSampleOf } from './inputs.ts'
import type { AlarmSetting, CounterLookup, Moment, WatcherInputs } from './kinds/kind.ts'
import { isActive } from './lifeCycle.ts'
import { createPastAlarms } from './pastAlarms.ts'

/** Keeps the journal and what alarms must remember. */
export interface AlarmJournal {
  /** Stores the step and the alarm's memory together; returns the entry with its place in the journal. */
  record(plant: string, step: Step, memory: AlarmMemory): JournalEntry
  memoryOf(plant: string, alarm: string): AlarmMemory | undefined
  /** Whether it was told already that the condition of this alarm held about then. */
  wasTold(plant: string, alarm: string, at: number): boolean
}

export interface BoardOptions {
  plant: { id: string; simulated: boolean }
  settings: readonly AlarmSetting[]
  plan: Plan
  figures: FigureLookupById
  journal: AlarmJournal
  mono: () => number
  counters: CounterLookup
  suspicions: WatcherInputs['suspicions']
  /** What the machine is doing, for conditions such as "running". */
  state: () => MachineState
  /** Shared by all plants of one operator. */
  flood?: FloodWatch
  /** Keeps traces of over-speed and trips. */
  trace?: EventTrace
  /** The same, of what is past when it is told. */
  pastTrace?: EventTrace
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
  const { plant, settings, plan, figures, journal, mono, onTransition, trace } = options
  const { counters, suspicions, state, flood = createFloodWatch() } = options
  const alarms = settings.map((setting) => open(setting))
  const byId = new Map(alarms.map((alarm) => [alarm.setting.id, alarm]))
  const byQuantity = watchersOf(alarms)
  const ofDoubt = alarms.filter((alarm) => alarm.watchesDoubt)
  const pathOf = causePathsOf(plan, settings)
  const past = createPastAlarms({
    watching: (quantity) => byQuantity.get(quantity) ?? [],
    wasTold: (alarm, at) => journal.wasTold(plant.id, alarm, at),
    record,
    mono,
    trace: options.pastTrace,
  })
  const shownVersion = new Map<Alarm, number>()
  let shownFlood = ''
  let lastReadingMono = Number.NEGATIVE_INFINITY

  function open(setting: AlarmSetting): Alarm {
    const memory = journal.memoryOf(plant.id, setting.id)
    const periodMs = periodOf(plan, setting.figure)
    const watcher = setting.open({
      periodMs,
      figures,
      counters,
      suspicions,
      wasHeld: memory !== undefined && isActive(memory.life.announced),
      evaluate: (expression) => expression.evaluate(figures, state()),
    })
    return createAlarm(setting, {
      isSimulated: plant.simulated,
      watcher,
      periodMs,
      ...(memory ? { memory } : {}),
    })
  }

  /** Where each stands is not stored: it follows from their times. */
  function placeRemembered(): void {
    const members = alarms.flatMap(memberOf)
    for (const episode of new Set(members.map((one) => one.episode)))
      place(
        placesOf(
          members.filter((one) => one.episode === episode),
          pathOf,
        ),
      )
  }

  function place(places: ReturnType<typeof placesOf>): void {
    for (const [id, one] of places) byId.get(id)?.setPlace(one)
  }

  function takeReading(reading: Reading): void {
    const isPast = past.take(reading)
    const sample = rawSampleOf(reading)
    if (!sample) return
    let isHeard = !sample.isLate
    for (const alarm of byQuantity.get(sample.quantity) ?? []) {
      if (alarm.takesLate ? isPast : sample.isLate) continue
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
    past.tick()
  }

  /** Nobody knows whether it means something: then it does. An input beyond its range is an alarm of its own, and not lost. */
  function isIdle({ while: condition, kind, figure }: AlarmSetting): boolean {
    const isLoss = kind.lossOf === 'figure'
    if (isLoss && alarms.some((one) => one.setting.figure === figure && one.isBeyondRange())) return true
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
    const entry = journal.record(plant.id, withEpisode(alarm, step), alarm.memory())
    onTransition(alarm.view(), entry)
  }

  function withEpisode(alarm: Alarm, step: Step): Step {
    if (step.event !== 'raise' || step.entry !== 'alarm') return step
    flood.raised(mono(), step.at)
    const others = alarms.filter((one) => one !== alarm).flatMap(memberOf)
    const wasOpen = step.from !== 'normal' && step.from !== 'suppressed'
    const episode = wasOpen ? alarm.memory().episode : null
    const { id, priority, figure } = alarm.setting
    const { onset } = alarm.memory()
    const raised = {
      id,
      priority,
      shows: shownBy(figure),
      onset: onset!,
      endedAt: null,
      isOpen: true,
      episode,
    }
    const places = placeRaised(raised, others, pathOf)
    place(places)
    const { after, episode: its } = places.get(id)!
    return { ...step, episode: its, ...(after === null ? {} : { after }) }
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

  placeRemembered()
  return { takeReading, tick, act, takeChanged, views }
}

/** One that was raised at some time. */
function memberOf({ setting, memory, isPresent }: Alarm): (Member & { episode: string })[] {
  const { episode, onset, life, returnedAt, changedAt } = memory()
  if (episode === null || onset === null) return []
  const endedAt = isPresent() ? null : (returnedAt ?? changedAt ?? onset.to)
  const { id, priority, figure } = setting
  return [
    { id, priority, shows: shownBy(figure), onset, endedAt, isOpen: life.announced !== 'normal', episode },
  ]
}

/** Alarms that are not acknowledged and that are active; notices and what is off the list do not count. */
export function countAlarms(views: readonly AlarmView[]): { unacknowledged: number; active: number } {
  const listed = views.filter((view) => view.entry === 'alarm' && view.id !== FLOOD_NOTICE)
  return {
    unacknowledged: listed.filter((view) => isUnacknowledged(view.state)).length,
    active: listed.filter((view) => isActive(view.state)).length,
  }
}
