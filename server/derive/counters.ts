import type { CounterView } from '../wire/replies.ts'
import { type CounterKind, counterKinds } from './counterKinds.ts'
import { type CounterState, integrate } from './integrate.ts'
import type { FigureLookupById } from './lookup.ts'

/** Keeps counters across restarts. */
export interface CounterStore {
  load(plant: string, id: string): (CounterState & { since: number }) | undefined
  save(plant: string, counters: readonly { id: string; since: number; state: CounterState }[]): boolean
}

export interface Counters {
  /** Call after every evaluation of the figures. */
  tick(now: number): void
  /** Writes what changed; call once a second and before the end. */
  save(): boolean
  views(): CounterView[]
}

export function createCounters(plant: string, figures: FigureLookupById, store: CounterStore): Counters {
  const kept = counterKinds
    .filter((kind) => figures.has(kind.figure))
    .map((kind) => ({ kind, ...start(store.load(plant, kind.id)) }))
  let saved = new Map<string, CounterState>()

  return {
    tick(now) {
      for (const counter of kept) {
        counter.since ??= now
        const at = figures.at(counter.kind.figure)
        if (!Number.isNaN(at)) counter.state = integrate(counter.state, at, counter.kind.rate(figures))
      }
    },
    save() {
      const changed = kept.filter(({ kind, state, since }) => since !== null && saved.get(kind.id) !== state)
      if (changed.length === 0) return true
      const held = store.save(
        plant,
        changed.map(({ kind, state, since }) => ({ id: kind.id, since: since!, state })),
      )
      if (held) saved = new Map(kept.map(({ kind, state }) => [kind.id, state]))
      return held
    },
    views: () => kept.flatMap(({ kind, state, since }) => (since === null ? [] : [view(kind, state, since)])),
  }
}

function start(stored: (CounterState & { since: number }) | undefined): {
  state: CounterState
  since: number | null
} {
  if (!stored)
    return { state: { value: 0, at: null, last: null, gapSeconds: 0, uncertainSeconds: 0 }, since: null }
  const { since, ...state } = stored
  return { state, since }
}

function view(kind: CounterKind, state: CounterState, since: number): CounterView {
  return {
    id: kind.id,
    name: kind.name,
    unit: kind.unit,
    value: state.value,
    since,
    at: state.at,
    gapSeconds: state.gapSeconds,
    quality: state.at === null ? 'bad' : state.gapSeconds + state.uncertainSeconds > 0 ? 'uncertain' : 'good',
  }
}
