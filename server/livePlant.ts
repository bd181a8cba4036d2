import { type AlarmBoard, type AlarmJournal, createAlarmBoard } from './alarms/board.ts'
import { assessEvent } from './alarms/events/assess.ts'
import type { EventStore } from './alarms/events/eventStore.ts'
import { createEventRecorder, type RawRecord } from './alarms/events/recorder.ts'
import { tracedChannels } from './alarms/events/traces.ts'
import type { FloodWatch } from './alarms/flood.ts'
import type { AlarmSetting } from './alarms/kinds/kind.ts'
import { readAlarmSettings } from './alarms/settings.ts'
import type { Accumulated } from './derive/accumulations.ts'
import { counterKinds } from './derive/counterKinds.ts'
import { type CounterStore, type Counters, createCounters } from './derive/counters.ts'
import { createEvaluator, type EvaluatorMemory } from './derive/evaluate.ts'
import { createLookup, type FigureLookupById } from './derive/lookup.ts'
import { createMachineState, type MachineMemory, type SaidState } from './derive/machineState.ts'
import { ownFigures } from './derive/ownFigures.ts'
import { type Plan, planFigures } from './derive/plan.ts'
import { describePlant } from './derive/plantView.ts'
import type { Verdict } from './derive/verdict.ts'
import { withoutFollowing } from './followingFaults.ts'
import type { Reading } from './ingest/reading.ts'
import { createMachinePast, type MachineThen } from './machinePast.ts'
import type { FigurePlant } from './mirror/shownPlant.ts'
import type { Plant, PlantFault } from './plant/plant.ts'
import type { AlarmView, JournalEntry } from './wire/alarm.ts'

/** One plant from reading to figure, counter and alarm. Pure but for the stores it is given. */
export interface LivePlant extends FigurePlant {
  figures: FigureLookupById
  counters: Counters
  board: AlarmBoard
  /** What figures that remember stand at, by index. */
  accumulated: ReadonlyMap<number, Accumulated>
  /** The over-speed path first, then the figures. Returns what may be stored by it (`Evaluator.take`). */
  takeReading(reading: Reading): readonly Reading[]
  setConnected(connected: boolean): void
  /** Takes over the last readings of the same plant before its file changed; what is sent only on change stays known. */
  adopt(before: LivePlant | undefined): void
  /** Brings figures, counters and alarms up to `now`; returns the indexes of the figures that changed. */
  tick(now: number): number[]
  /** Stores the counters and ends an open event record; call before the plant is given up. */
  close(): void
  /** What the machine is doing. */
  state(): SaidState
  /** What that follows from. */
  machine(): MachineMemory
  /** Who is suspected; undefined: nobody. */
  verdict(): Verdict | undefined
  setVerdict(verdict: Verdict | undefined): void
  /** What it was doing before a moment of the last two minutes; undefined where that is not known. */
  machineBefore(at: number): MachineThen | undefined
  /** Wall clock of the newest reading [ms UTC]; null before the first. */
  lastReceivedAt(): number | null
}

export interface LivePlantOptions {
  journal: AlarmJournal
  counterStore: CounterStore
  mono: () => number
  /** Keeps records of over-speed and trips; without one there are none. */
  events?: Pick<EventStore, 'save'>
  /** Counts alarms over all plants. */
  flood?: FloodWatch
  onTransition: (plant: string, alarm: AlarmView, entry: JournalEntry) => void
}

/** What can be computed and watched at a plant, and everything that is wrong with its own figures and its alarms. */
export function planPlant(plant: Plant): { plan: Plan; settings: AlarmSetting[]; faults: PlantFault[] } {
  const plan = planFigures(plant)
  const counterIds = counterKinds.map((kind) => kind.id)
  const own = ownFigures(plant, counterIds)
  const descriptions = plan.nodes.map((node) => node.description)
  const { settings, faults } = readAlarmSettings(plant, descriptions)
  const isRead = new Set(own.quantities.map(({ id }) => id))
  const lost = new Set(plant.figures.map(({ id }) => id).filter((id) => !isRead.has(id)))
  return { plan, settings, faults: [...own.faults, ...withoutFollowing(faults, { plant, lost })] }
}

export function createLivePlant(plant: Plant, options: LivePlantOptions): LivePlant {
  const { plan, settings } = planPlant(plant)
  const evaluator = createEvaluator(plan)
  const figures = createLookup(plan, evaluator)
  const accumulated = new Map<number, Accumulated>()
  const remembering = {
    setAccumulated(index: number, one: Accumulated) {
      evaluator.setAccumulated(index, one)
      accumulated.set(index, one)
    },
  }
  const counters = createCounters({ plan, evaluator: remembering, figures, store: options.counterStore })
  const machine = createMachineState(plan, figures)
  const { journal, mono, flood, events } = options
  const described = plan.nodes.map((node) => node.description)
  const recording = {
    plant,
    channels: tracedChannels(plant, described),
    save: (record: RawRecord) => void events?.save(assessEvent(record, plant)),
  }
  const [trace, pastTrace] = [createEventRecorder(recording), createEventRecorder(recording)]
  const board = createAlarmBoard({
    plant,
    settings,
    plan,
    figures,
    journal,
    mono,
    trace,
    pastTrace,
    ...(flood ? { flood } : {}),
    counters,
    suspicions: evaluator.suspicions,
    state: () => machine.state().state,
    onTransition: (alarm, entry) => options.onTransition(plant.id, alarm, entry),
  })
  const past = createMachinePast()
  let lastReceivedAt: number | null = null
  let verdict: Verdict | undefined

  return {
    plant,
    plan,
    view: describePlant(plan),
    evaluator,
    figures,
    counters,
    board,
    accumulated,
    takeReading(reading) {
      board.takeReading(reading)
      const settled = evaluator.take(reading)
      for (const one of settled) counters.takeReading(one)
      lastReceivedAt = reading.receivedAt
      return settled
    },
    setConnected: (connected) => evaluator.setConnected(connected),
    adopt(before) {
      if (!before) return
      evaluator.restore(sameInstruments(before, plant))
      evaluator.setConnected(before.evaluator.isConnected())
      lastReceivedAt = before.lastReceivedAt()
    },
    tick(now) {
      const changed = evaluator.evaluate(now)
      counters.tick(now)
      past.note({ at: now, sentence: machine.tick(now).sentence })
      board.tick(now)
      return changed
    },
    close() {
      counters.save()
      trace.close()
      pastTrace.close()
    },
    state: () => machine.state(),
    machine: () => machine.memory(),
    verdict: () => verdict,
    setVerdict(next) {
      verdict = next
      evaluator.setVerdict(next)
    },
    machineBefore: past.before,
    lastReceivedAt: () => lastReceivedAt,
  }
}

/** An instrument that the plant file changed begins anew, and so does all that looks back on more than one. */
function sameInstruments(before: LivePlant, { instruments }: Plant): EvaluatorMemory {
  const { intake } = before.evaluator.memory()
  const former = new Map(before.plant.instruments.map((one) => [one.id, JSON.stringify(one)]))
  const same = instruments.filter((one) => former.get(one.id) === JSON.stringify(one))
  const kept = same.flatMap(({ id }) => {
    const one = intake[id]
    return one ? [[id, { ...one, still: undefined }] as const] : []
  })
  return { intake: Object.fromEntries(kept), windows: {} }
}

/** Takes changed plant files over: counters and alarms go on from what is stored, readings from what is known. */
export function replaceLivePlants(
  plants: Map<string, LivePlant>,
  next: readonly Plant[],
  options: LivePlantOptions,
): void {
  const before = new Map(plants)
  for (const one of before.values()) one.close()
  plants.clear()
  for (const plant of next) {
    const live = createLivePlant(plant, options)
    live.adopt(before.get(plant.id))
    plants.set(plant.id, live)
  }
}
