import type { AlarmView } from '../../server/wire/alarm.ts'
import type { Snapshot } from '../../server/wire/plant.ts'
import { startingAlarms } from './fakeAlarms.ts'
import { figureAt, rows, view } from './fakePlant.ts'

/** A time on a winter morning, 2026-11-25T09:30:00Z, to reckon from. */
export const MORNING = Date.UTC(2026, 10, 25, 9, 30)

export function snapshotAt(at: number, sequence = 10): Snapshot {
  return {
    sequence,
    at,
    plant: view,
    state: {
      state: 'generating',
      sentence: 'Running.',
      since: null,
      agreement: { state: 'agrees', sentence: 'The instruments agree.' },
    },
    values: rows.map((_, row) => figureAt(row, at)),
    alarms: startingAlarms(at),
    source: { connected: true, name: 'embedded broker', since: at },
    health: { faults: 0, unmapped: 0, storing: true },
  }
}

export function alarmNamed(id: string, at: number): AlarmView {
  const alarm = startingAlarms(at).find((held) => held.id === id)
  if (!alarm) throw new RangeError(`the made-up plant has no alarm "${id}"`)
  return alarm
}
