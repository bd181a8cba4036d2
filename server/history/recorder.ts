import type { Reading } from '../ingest/reading.ts'
import type { LivePlant } from '../livePlant.ts'
import type { HistoryStore } from './store.ts'

/** Collects what is to be kept and hands it to the store once a second. */
export interface Recorder {
  /** Every reading with its own time, also one that came late. */
  takeReading(reading: Reading): void
  /** The derived figures of one plant, at most once a second. */
  takeFigures(live: Pick<LivePlant, 'plant' | 'plan' | 'evaluator'>): void
  /** Hands everything collected to the store; call once a second and before the end. */
  handOver(): void
  recorded(): number
}

const QUALITY = { good: 0, uncertain: 1, bad: 2 } as const

/** Name of a signal in history. */
export function signalName(plant: string, figure: string): string {
  return `${plant}/${figure}`
}

export function createRecorder(store: Pick<HistoryStore, 'append'>): Recorder {
  let signals: string[] = []
  let at: number[] = []
  let value: number[] = []
  let quality: number[] = []
  let recorded = 0
  const lastAt = new Map<string, number>()
  const names = new Map<string, Map<string, string>>()

  /** Joined once per signal, since this is the hot path. */
  function nameOf(plant: string, figure: string): string {
    const ofPlant = names.get(plant) ?? new Map<string, string>()
    names.set(plant, ofPlant)
    const name = ofPlant.get(figure) ?? signalName(plant, figure)
    ofPlant.set(figure, name)
    return name
  }

  function add(signal: string, row: { at: number; value: number; quality: number }): void {
    signals.push(signal)
    at.push(row.at)
    value.push(row.value)
    quality.push(row.quality)
    recorded++
  }

  return {
    takeReading(reading) {
      if (reading.ageUnknown) return
      add(nameOf(reading.plant, reading.quantity), {
        at: reading.measuredAt,
        value: reading.value,
        quality: QUALITY[reading.quality],
      })
    },
    takeFigures({ plant, plan, evaluator }) {
      for (const node of plan.nodes) {
        if (node.kind === 'measured') continue
        const time = evaluator.at(node.index)
        const signal = nameOf(plant.id, node.description.id)
        if (Number.isNaN(time) || time <= (lastAt.get(signal) ?? Number.NEGATIVE_INFINITY)) continue
        lastAt.set(signal, time)
        add(signal, {
          at: time,
          value: evaluator.value(node.index),
          quality: QUALITY[evaluator.quality(node.index)],
        })
      }
    },
    handOver() {
      if (signals.length === 0) return
      store.append({
        signals,
        at: Float64Array.from(at),
        value: Float64Array.from(value),
        quality: Uint8Array.from(quality),
      })
      signals = []
      at = []
      value = []
      quality = []
    },
    recorded: () => recorded,
  }
}
