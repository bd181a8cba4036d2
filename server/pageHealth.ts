import type { Ask } from './channel/questions.ts'
import type { Clock } from './clock.ts'
import { watchLoopDelay } from './loopDelay.ts'
import { granted, type Outcome } from './outcome.ts'
import type { Hub } from './push/hub.ts'
import { createStageRates } from './stageRates.ts'
import type { State } from './state/openState.ts'
import type { HealthLine } from './wire/plant.ts'
import type { HealthReply, QueueHealth } from './wire/replies.ts'

export interface PageHealthSources {
  ask: Ask
  clock: Clock
  people: State
  /** Of listeners to what happens at the plants. */
  faults: () => number
  hub: Hub
  queues: () => QueueHealth[]
}

/** How the whole is: what the watch says of itself, and the page side beside it. */
export interface PageHealth {
  reply(): Promise<Outcome<HealthReply>>
  /** Call once a second. */
  tick(): void
}

export function createPageHealth({ ask, clock, people, faults, hub, queues }: PageHealthSources): PageHealth {
  const delay = watchLoopDelay()
  const rates = createStageRates(clock, () => [
    {
      name: 'page side',
      total: hub.framesSent(),
      faults: faults(),
      detail: `frames to ${hub.viewers()} watching; faults of all that listens, trials and lessons too`,
    },
  ])

  return {
    tick() {
      rates.tick()
      delay.tick()
    },
    async reply() {
      const outcome = await ask('health', null)
      if (!outcome.ok) return outcome
      const watch = outcome.value
      const fault = storingFault(people)
      const own = {
        name: 'page side',
        memoryRssBytes: process.memoryUsage.rss(),
        eventLoopDelayP99Ms: delay.p99(),
      }
      return granted({
        ...watch,
        stages: [...watch.stages, ...rates.stages()],
        queues: [...watch.queues, hub.queue(), ...queues()],
        storing: fault === undefined || !watch.storing.ok ? watch.storing : { ok: false, detail: fault },
        memoryRssBytes: watch.memoryRssBytes + own.memoryRssBytes,
        processes: [...watch.processes, own],
      })
    },
  }
}

/** The line of every screen: the watch's, unless what people do cannot be stored. */
export function healthLine(watch: HealthLine, people: State): HealthLine {
  const fault = storingFault(people)
  return fault === undefined || !watch.storing ? watch : { ...watch, storing: false, storingDetail: fault }
}

function storingFault(people: State): string | undefined {
  const { isFailing, count, last } = people.failures()
  return isFailing ? `What people do cannot be stored (${count} writes so far): ${last}` : undefined
}
