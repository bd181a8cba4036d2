import type { Scene } from '../push/scene.ts'
import { SAMPLE_MS, WINDOW_MS } from '../trials/capture/samples.ts'
import { steadinessOf } from '../trials/capture/steadiness.ts'
import type { SteadyLamp } from '../wire/lesson.ts'

/** Largest scatter and movement over the window, as shares. Source: trade practice for laboratory runs, no source. */
const LIMITS: readonly [figure: string, share: number][] = [
  ['speed', 0.005],
  ['netHead', 0.01],
  ['discharge', 0.015],
  ['activePower', 0.015],
]
const MOST_SAMPLES = WINDOW_MS / SAMPLE_MS + 1

/** Watches whether the plant of a scene holds still: the newest 20 s of speed, head, discharge and power. */
export interface SteadyWatch {
  /** Call often; takes a sample when one is due. `time` is that of the figures, which a replay may set back. */
  take(scene: Scene, time: number): void
  lamp(): SteadyLamp
}

export function createSteadyWatch(): SteadyWatch {
  let at: number[] = []
  let tracks = new Map<string, number[]>()
  let names = new Map<string, { name: string; rated: number }>()

  function forget(): void {
    at = []
    tracks = new Map()
  }

  function judge(): SteadyLamp {
    if (names.size === 0) return UNKNOWN
    if (at.length < 2 || at.at(-1)! - at[0]! < WINDOW_MS - SAMPLE_MS)
      return { state: 'hold', sentence: 'Watched for less than 20 s.' }
    for (const [id, share] of LIMITS) {
      const named = names.get(id)
      if (!named) continue
      const values = tracks.get(id)!
      if (Number.isNaN(values.at(-1))) return { state: 'unknown', sentence: `${named.name} is not known.` }
      if (values.some(Number.isNaN))
        return { state: 'hold', sentence: `${named.name} was not known all of the last 20 s.` }
      const state = steadinessOf(
        { values, ratios: values.map(() => Number.NaN) },
        { share, usual: named.rated },
      )
      if (state === 'scattering') return { state: 'hold', sentence: `${named.name} scatters.` }
      if (state === 'moving') return { state: 'hold', sentence: `${named.name} is still moving.` }
    }
    return { state: 'steady', sentence: 'Steady for 20 s.' }
  }

  let known: SteadyLamp = UNKNOWN
  return {
    take(scene, time) {
      const last = at.at(-1)
      if (last !== undefined && time >= last && time - last < SAMPLE_MS) return
      // A replay that jumped, or a pause: what came before is no part of this window.
      if (last !== undefined && (time < last || time - last > 4 * SAMPLE_MS)) forget()
      names = new Map()
      at.push(time)
      for (const [id] of LIMITS) {
        const index = scene.view.figures.findIndex((figure) => figure.id === id)
        const figure = scene.view.figures[index]
        if (!figure) continue
        names.set(id, { name: figure.name, rated: figure.rated ?? 0 })
        const track = tracks.get(id) ?? Array<number>(at.length - 1).fill(Number.NaN)
        track.push(scene.value(index).value ?? Number.NaN)
        tracks.set(id, track)
      }
      while (at.length > MOST_SAMPLES) {
        at.shift()
        for (const track of tracks.values()) track.shift()
      }
      known = judge()
    },
    lamp: () => known,
  }
}

const UNKNOWN: SteadyLamp = { state: 'unknown', sentence: 'Nothing here tells whether it is steady.' }
