import type { AlarmStep, Plants, Tick } from '../channel/messages.ts'
import { readColumns } from '../channel/readingColumns.ts'
import type { Clock } from '../clock.ts'
import type { Reading } from '../ingest/reading.ts'
import { createListeners, type Listeners } from '../listeners.ts'
import type { Tell } from '../log.ts'
import { createSparseLog } from '../sparseLog.ts'
import type { AlarmView } from '../wire/alarm.ts'
import type { HealthLine, SourceView } from '../wire/plant.ts'
import { createMirroredPlant, type MirroredPlant } from './mirroredPlant.ts'
import type { ShownPlant } from './shownPlant.ts'

/** Every plant as the watch tells of it. */
export interface Mirror {
  plants(): ReadonlyMap<string, ShownPlant>
  source(): SourceView
  health(): HealthLine
  happenings: Happenings
  take(message: Plants | Tick | AlarmStep): void
}

/**
 * What happens at the plants, in its order; listeners are called at once. One that throws does not harm the others: what
 * it threw is told and counted.
 */
export interface Happenings {
  reading: Listeners<Reading>
  /** Readings were given up on the way here: so many. */
  lost: Listeners<number>
  /** A step in the life of an alarm. */
  transition: Listeners<{ plant: string; alarm: AlarmView }>
  /** A plant was brought up to date; these figures (by index) and alarms changed since the time before. */
  figures: Listeners<{ plant: ShownPlant; changed: readonly number[]; alarms: readonly AlarmView[] }>
  /** The plant files were read again; ids of the plants that there are now. */
  plantsChanged: Listeners<readonly string[]>
  /** How often a listener threw. */
  faults(): number
}

export function createMirror(first: Plants, { tell, clock }: { tell: Tell; clock: Clock }): Mirror {
  const happenings = createHappenings(tell, clock)
  let plants = mirrored(first)
  let { source, health } = first

  function takeTick(tick: Tick): void {
    const all = [...plants.values()]
    if (tick.lost > 0) happenings.lost.call(tick.lost)
    readColumns(
      tick.readings,
      all.map(({ plant }) => plant),
      (reading) => {
        plants.get(reading.plant)?.takeReading(reading)
        happenings.reading.call(reading)
      },
    )
    source = tick.source ?? source
    health = tick.health ?? health
    all.forEach((plant, i) => {
      const alarms = tick.alarms[i]!
      for (const alarm of alarms) plant.takeAlarm(alarm)
      const isConnected = tick.isConnected[i]!
      const changed = plant.tick(tick.now, {
        isConnected,
        accumulated: tick.accumulated[i]!,
        verdict: tick.verdicts[i]!,
      })
      happenings.figures.call({ plant, changed, alarms })
    })
  }

  return {
    plants: () => plants,
    source: () => source,
    health: () => health,
    happenings,
    take(message) {
      if (message.kind === 'tick') takeTick(message)
      else if (message.kind === 'alarm') {
        plants.get(message.plant)?.takeAlarm(message.alarm)
        happenings.transition.call(message)
      } else {
        plants = mirrored(message)
        source = message.source
        health = message.health
        happenings.plantsChanged.call([...plants.keys()])
      }
    },
  }
}

function mirrored({ plants, evaluatedAt }: Plants): Map<string, MirroredPlant> {
  return new Map(plants.map((one) => [one.plant.id, createMirroredPlant(one, evaluatedAt)]))
}

function createHappenings(tell: Tell, clock: Clock): Happenings {
  const log = createSparseLog(tell, clock)
  let faults = 0
  const onFault = (error: unknown) => {
    faults++
    log('listener', 'page side: a listener failed, all else goes on', 'error', error)
  }
  return {
    reading: createListeners(onFault),
    lost: createListeners(onFault),
    transition: createListeners(onFault),
    figures: createListeners(onFault),
    plantsChanged: createListeners(onFault),
    faults: () => faults,
  }
}
