import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { PlantHold } from '../hold/plantHold.ts'
import { type LinkPhase, linkNotice } from './linkStatus.ts'

/** Plants of which the last known values are kept while another screen is shown. */
const MOST_KEPT = 8

interface Kept {
  hold: PlantHold
  at: number | null
}

interface Link {
  hold: Signal<PlantHold | null>
  phase: ReadonlySignal<LinkPhase>
  silentMs: ReadonlySignal<number>
  detail: ReadonlySignal<string | undefined>
}

/** Why what is shown is not from now, and of when it is. */
export function createLastKnown({ hold, phase, silentMs, detail }: Link) {
  const kept = new Map<string, Kept>()
  /** The server's time [ms] of what came last. */
  const heardOf = signal<number | null>(null)
  /** True while what is shown was kept from an earlier visit, and nothing has come since. */
  const isOld = signal(false)

  const notice = computed(() =>
    linkNotice(
      { phase: phase.value, silentMs: silentMs.value, detail: detail.value },
      hold.value?.source.value ?? null,
    ),
  )

  const shown = {
    notice,
    isWithheld: computed(() => notice.value !== null || isOld.value),
    /** Of when [ms] the values are that are shown while they are withheld; null: not known. */
    knownAt: computed(() => {
      const source = hold.value?.source.value
      return notice.value?.kind === 'source' && source ? source.since : heardOf.value
    }),
  }

  return {
    shown,
    heard(at: number): void {
      heardOf.value = at
      isOld.value = false
    },
    bringBack(plant: string): void {
      const before = kept.get(plant)
      hold.value = before?.hold ?? null
      heardOf.value = before?.at ?? null
      isOld.value = before !== undefined
    },
    /** Recordings and lessons are over when one has left them; the oldest of too many plants goes. */
    putAway(plant: string): void {
      if (hold.value && !plant.includes(':')) {
        kept.delete(plant)
        kept.set(plant, { hold: hold.value, at: heardOf.value })
        if (kept.size > MOST_KEPT) kept.delete(kept.keys().next().value!)
      }
      hold.value = null
      isOld.value = false
    },
    /** Somebody else is signed in now. */
    forget: () => kept.clear(),
  }
}
