import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { PlantSummary } from '../../../server/wire/plant.ts'
import { type Answer, http } from '../../connect/http.ts'
import { may, person } from '../../connect/person.ts'
import { type Polled, usePolled } from '../../connect/poll.ts'
import { isPhone } from '../route.ts'

const EVERY_MS = 2000

export const PlantList = createContext<Polled<PlantSummary[]> | null>(null)

/** All plants, asked for once for the whole page, whatever it shows. */
export function useFollowedPlants(): Polled<PlantSummary[]> {
  return usePolled(askIfAllowed, EVERY_MS, [person.value?.name])
}

/** A question that is refused would make the page ask who is signed in, again and again. */
async function askIfAllowed(): Promise<Answer<PlantSummary[]>> {
  return person.value && may('read') && !isPhone() ? http.plants() : NOT_ALLOWED
}

const NOT_ALLOWED = { ok: false, reached: true, error: 'You may not read the plants.' } as const

export function usePlants(): Polled<PlantSummary[]> {
  return useContext(PlantList)!
}

/** Whoever needs a person comes first. */
export function bySeverity(plants: readonly PlantSummary[]): PlantSummary[] {
  return plants.toSorted((a, b) => rankOf(a) - rankOf(b))
}

function rankOf({ danger, unacknowledged, active, state }: PlantSummary): number {
  if (danger) return danger.kind === 'overSpeed' ? 0 : 1
  if (unacknowledged > 0) return 2
  if (state.state === 'unknown') return 3
  return active > 0 ? 4 : 5
}
