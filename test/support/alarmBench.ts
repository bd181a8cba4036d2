import type { AlarmMemory, Step } from '../../server/alarms/alarm.ts'
import { type AlarmBoard, type AlarmJournal, createAlarmBoard } from '../../server/alarms/board.ts'
import { readAlarmSettings } from '../../server/alarms/settings.ts'
import { createEvaluator } from '../../server/derive/evaluate.ts'
import { createLookup } from '../../server/derive/lookup.ts'
import { planFigures } from '../../server/derive/plan.ts'
import type { Verdict } from '../../server/derive/verdict.ts'
import type { Reading } from '../../server/ingest/reading.ts'
import type { AlarmView, JournalEntry } from '../../server/wire/alarm.ts'
import { START } from './manualClock.ts'
import { plantOf } from './plants.ts'

/** A journal that forgets with the test. */
export function memoryJournal(
  onEntry: (entry: JournalEntry) => void = () => {},
): AlarmJournal & { entries: JournalEntry[] } {
  const entries: JournalEntry[] = []
  const memories = new Map<string, AlarmMemory>()
  return {
    entries,
    record(plant: string, step: Step, memory: AlarmMemory) {
      const entry = { ...step, plant, sequence: entries.length + 1 }
      entries.push(entry)
      memories.set(`${plant}/${step.alarm}`, memory)
      onEntry(entry)
      return entry
    },
    memoryOf: (plant, alarm) => memories.get(`${plant}/${alarm}`),
    wasTold: () => false,
  }
}

export interface AlarmBench {
  board: AlarmBoard
  journal: ReturnType<typeof memoryJournal>
  transitions: { alarm: AlarmView; entry: JournalEntry }[]
  /** Gives a reading at the bench's time, over the raw path and to the figures. */
  read(quantity: string, value: number, more?: Partial<Reading>): void
  /** What the comparisons say against instruments. */
  accuse(verdict: Verdict | undefined): void
  /** Moves time on and judges. */
  tick(ms: number): void
  alarm(id: string): AlarmView
}

/** One machine with speed and power; `alarms` is YAML for the list of alarms, `instrument` for one more. */
export function alarmBench(alarms: string, journal = memoryJournal(), instrument = ''): AlarmBench {
  const plant = plantOf(`
generator: { kind: synchronous, polePairs: 2, ratedSpeed: 1500 /min, ratedPower: 15 kW, ratedFrequency: 50 Hz }
instruments:
  - { id: tacho, role: speed, topic: mill/speed, unit: /min, staleAfter: 3 s }
  - { id: meter, role: activePower, topic: mill/power, unit: kW, staleAfter: 3 s }
  ${instrument}
alarms:
${alarms}`)
  const plan = planFigures(plant)
  const { settings, faults } = readAlarmSettings(
    plant,
    plan.nodes.map((node) => node.description),
  )
  if (faults.length > 0) throw new Error(JSON.stringify(faults))
  const evaluator = createEvaluator(plan)
  evaluator.setConnected(true)
  let now = START
  const transitions: AlarmBench['transitions'] = []
  const board = createAlarmBoard({
    plant,
    settings,
    plan,
    figures: createLookup(plan, evaluator),
    journal,
    mono: () => now,
    counters: { views: () => [], days: () => undefined },
    suspicions: evaluator.suspicions,
    state: () => 'unknown',
    onTransition: (alarm, entry) => transitions.push({ alarm, entry }),
  })
  return {
    board,
    journal,
    accuse: evaluator.setVerdict,
    transitions,
    read(quantity, value, more = {}) {
      const instrument = plant.instruments.find((one) => one.quantity === quantity)!.id
      const reading: Reading = {
        plant: 'mill',
        instrument,
        quantity,
        value,
        measuredAt: now,
        receivedAt: now,
        quality: 'good',
        reasons: [],
        ...more,
      }
      board.takeReading(reading)
      evaluator.take(reading)
    },
    tick(ms) {
      now += ms
      evaluator.evaluate(now)
      board.tick(now)
    },
    alarm: (id) => board.views().find((one) => one.id === id)!,
  }
}

/** [rad/s] from min⁻¹. */
export const perMinute = (n: number) => (n * 2 * Math.PI) / 60
