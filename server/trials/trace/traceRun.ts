import type { Reading } from '../../ingest/reading.ts'
import type { FigurePlant } from '../../mirror/shownPlant.ts'
import type { TraceEnding } from '../../wire/trace.ts'
import type { TraceGuidance } from '../../wire/trial.ts'
import { createSetting } from '../capture/samples.ts'
import type { TraceMethod } from '../runMethod.ts'
import { MOST_READINGS, MOST_TRACES, type StoredTrace, type TakeStore } from '../takeStore.ts'
import { type BeginLook, createBeginWatch } from './beginWatch.ts'
import { conditionsNow } from './conditions.ts'
import { createRecentReadings, partOf } from './readings.ts'

/** A run of traces under way: remembers the last seconds, begins traces and stores them as they come. */
export interface TraceRun {
  readonly takes: 'traces'
  readonly id: number
  readonly plant: string
  takeReading(reading: Reading): void
  /** So many never came here; the guidance tells of them with those that had no room. */
  readingsLost(count: number): void
  tick(now: number): void
  arm(armed: boolean, now: number): void
  /** Ends a trace under way; the run goes no further. */
  close(now: number): void
  guidance(now: number): TraceGuidance
}

export interface TraceRunOptions {
  id: number
  plant: string
  method: TraceMethod
  store: TakeStore
  /** The plant as it is now: its file may be read anew during a run. */
  live: () => FigurePlant | undefined
  /** Wall clock at which the run is taken up, for traces that a restart cut short. */
  startedAt: number
}

/** Readings that wait while the disk refuses them. */
export const MOST_WAITING = 20_000

interface Recording {
  number: number
  triggeredAt: number
  parts: number
  readings: number
  pending: Reading[]
  isRefused: boolean
}

export function createTraceRun(options: TraceRunOptions): TraceRun {
  const { id, plant, method, store, live, startedAt } = options
  const { view } = method
  const recorded = new Set(view.channels.map((channel) => channel.instrument))
  const recent = createRecentReadings(view.secondsBefore * 1000)
  let watched: { live: FigurePlant; setting: () => string; look: () => BeginLook } | undefined
  let isArmed = keptTraces().length < view.repeats
  let recording: Recording | undefined
  let look: BeginLook = { state: 'preparing', sentence: 'Waiting for values.', conditions: [] }
  let lost = 0

  function keptTraces(): StoredTrace[] {
    return store.traces(id).filter((one) => one.verdict === 'kept')
  }

  /** The plant as it is now, with a fresh watch when it is another or a trace has ended. */
  function plantNow(): typeof watched {
    const now = live()
    if (!now) return undefined
    if (watched?.live === now) return watched
    recent.clear()
    for (const reading of now.evaluator.readings()) if (recorded.has(reading.instrument)) recent.take(reading)
    watched = { live: now, setting: createSetting(now), look: createBeginWatch(now, method) }
    return watched
  }

  function takeReading(reading: Reading): void {
    if (!recorded.has(reading.instrument)) return
    if (!recording) {
      recent.take(reading)
      return
    }
    if (recording.pending.length >= MOST_WAITING) {
      recording.pending.shift()
      lost++
    }
    recording.pending.push(reading)
  }

  function begin(now: number): void {
    const traces = store.traces(id)
    if (traces.length >= MOST_TRACES) {
      isArmed = false
      return
    }
    const first = recent.all(now)
    const from = Math.max(
      now - view.secondsBefore * 1000,
      Math.min(now, ...first.map((one) => one.measuredAt)),
    )
    const number = traces.length + 1
    const setting = watched?.setting() ?? ''
    if (!store.beginTrace(id, { number, from, triggeredAt: now, setting }, partOf(first))) return
    recent.clear()
    recording = { number, triggeredAt: now, parts: 1, readings: first.length, pending: [], isRefused: false }
  }

  /** Writes what came since the last piece; keeps it where the disk refuses. */
  function flush(one: Recording): void {
    if (one.pending.length === 0) return
    const isStored = store.appendTrace(id, one.number, { index: one.parts, readings: partOf(one.pending) })
    one.isRefused = !isStored
    if (!isStored) return
    one.parts++
    one.readings += one.pending.length
    one.pending = []
  }

  function endingNow(one: Recording, now: number): TraceEnding | undefined {
    const seen = now - one.triggeredAt
    if (method.end && watched && conditionsNow([method.end], watched.live)[0]!.isMet) return 'complete'
    // Time is over: that is the end where the trial waits for nothing else.
    if (seen >= view.longestSeconds * 1000) return method.end ? 'time' : 'complete'
    return one.readings >= MOST_READINGS ? 'full' : undefined
  }

  function end(one: Recording, now: number, ending: TraceEnding): void {
    flush(one)
    const isLost = one.pending.length > 0
    if (!store.endTrace(id, { number: one.number, at: now, ending: isLost ? 'notStored' : ending })) return
    recording = undefined
    watched = undefined
    isArmed = isArmed && keptTraces().length < view.repeats
  }

  function tick(now: number): void {
    const here = plantNow()
    if (recording) {
      flush(recording)
      const ending = endingNow(recording, now)
      if (ending && !recording.isRefused) end(recording, now, ending)
      return
    }
    if (!here || !isArmed) return
    look = here.look()
    if (look.state === 'begins') begin(now)
  }

  /** After a restart: what goes on with a gap goes on, what must not have one is closed and says why. */
  function resume(now: number): void {
    for (const one of store.traces(id)) {
      if (one.endedAt !== null) continue
      const { number, triggeredAt, parts, readings } = one
      if (view.afterRestart === 'goOn')
        recording = { number, triggeredAt, parts, readings, pending: [], isRefused: false }
      else
        store.endTrace(
          id,
          { number, at: now, ending: 'interrupted' },
          {
            takes: 'traces',
            number,
            at: now,
            by: 'the server',
            verdict: 'rejected',
            reason: 'the server was started anew while it was recorded',
          },
        )
    }
  }

  function stateNow(): Pick<TraceGuidance, 'state' | 'sentence' | 'conditions'> {
    if (recording?.isRefused)
      return {
        state: 'storing',
        sentence: 'The disk refuses readings; they are kept and tried again.',
        conditions: [],
      }
    if (recording)
      return {
        state: 'recording',
        sentence: `Recording trace ${recording.number}. It ends when ${view.ends}.`,
        conditions: [],
      }
    if (!isArmed) return { state: 'resting', sentence: restingSentence(), conditions: [] }
    if (!live())
      return { state: 'preparing', sentence: 'The plant of this run is not read at present.', conditions: [] }
    return { ...look, state: look.state === 'begins' ? 'armed' : look.state }
  }

  function restingSentence(): string {
    if (store.traces(id).length >= MOST_TRACES)
      return `A run has at most ${MOST_TRACES} traces. Start another.`
    return keptTraces().length >= view.repeats
      ? 'Every trace is there. Finish the run, or arm it for one more.'
      : 'Not armed. Arm it when the plant is ready.'
  }

  resume(startedAt)
  return {
    takes: 'traces',
    id,
    plant,
    takeReading,
    readingsLost(count) {
      if (recording) lost += count
    },
    tick,
    arm(armed, now) {
      if (!armed && recording) end(recording, now, 'stopped')
      isArmed = armed
      watched = undefined
    },
    close(now) {
      if (recording) end(recording, now, 'stopped')
      isArmed = false
    },
    guidance: (now) => ({
      takes: 'traces',
      at: now,
      ...stateNow(),
      kept: keptTraces().length,
      wanted: view.repeats,
      seconds: recording ? (now - recording.triggeredAt) / 1000 : 0,
      longestSeconds: view.longestSeconds,
      readings: recording?.readings ?? 0,
      lost,
      setting: watched?.setting() ?? '',
      value: mainNow(),
    }),
  }

  function mainNow(): number | null {
    const now = watched?.live
    const index = now?.plan.indexOf.get(view.main)
    return now && index !== undefined ? now.evaluator.view(index).value : null
  }
}
