import { systemClock } from '../../server/clock.ts'
import { createRecorder } from '../../server/history/recorder.ts'
import { createIngest } from '../../server/ingest/ingest.ts'
import type { FigureValue } from '../../server/wire/figure.ts'
import type { StateView } from '../../server/wire/plant.ts'
import { createSite } from '../../simulator/site.ts'
import { livePlantOf, type TestPlant } from './livePlantOf.ts'
import { START } from './manualClock.ts'
import { memoryBroker } from './memoryBroker.ts'
import { memoryStore } from './memoryHistory.ts'
import type { Readable } from './readableHistory.ts'

const STEP_MS = 20
const TICK_MS = 200

/** What was live at one moment. */
export interface LiveMoment {
  at: number
  values: FigureValue[]
  state: StateView
}

export interface RecordedHistory {
  live: TestPlant
  history: Readable
  /** At every whole second. */
  moments: LiveMoment[]
  end: number
}

export interface Deeds {
  seconds: number
  /** Second → control of the simulator and its value, e.g. { 20: ['jet-3', false] }. */
  commands?: Record<number, [control: string, value: string | number | boolean]>
  /** Topics that end so are silent between two seconds. */
  silent?: { topic: string; from: number; to: number }
}

/** A simulated plant, played through the whole way from topic to figure and into a history. */
export function recordHistory(id: string, { seconds, commands = {}, silent }: Deeds): RecordedHistory {
  const site = createSite(id, { seed: 7 })
  for (let t = 0; t < 60; t += 0.02) site.step(0.02)
  const broker = memoryBroker()
  const history = memoryStore()
  const recorder = createRecorder(history)
  let now = START
  const live = livePlantOf(site.plant, { mono: () => now })
  live.setConnected(true)
  createIngest({
    plants: [site.plant],
    broker,
    clock: { ...systemClock, now: () => now, mono: () => now },
    onReading(reading) {
      live.takeReading(reading)
      recorder.takeReading(reading)
    },
  })
  const moments: LiveMoment[] = []
  for (let step = 1; step <= (seconds * 1000) / STEP_MS; step++) {
    now = START + step * STEP_MS
    const second = (step * STEP_MS) / 1000
    const command = commands[second]
    if (command) site.command(command[0], command[1])
    site.step(STEP_MS / 1000)
    for (const { topic, payload } of site.messages(now)) {
      if (silent && topic.endsWith(silent.topic) && second >= silent.from && second < silent.to) continue
      broker.deliver({ topic, payload, receivedAt: now })
    }
    if (now % TICK_MS === 0) live.tick(now)
    if (now % 1000 === 0) {
      recorder.takeFigures(live)
      const values = live.plan.nodes.map((node) => live.evaluator.view(node.index))
      moments.push({ at: now, values, state: live.state() })
    }
  }
  recorder.handOver()
  return { live, history, moments, end: now }
}
