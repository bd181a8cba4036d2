import { signal } from '@preact/signals'

/** Screens whose address is their name alone. */
const NAMED = ['health', 'sign-in', 'set-up', 'people'] as const
type Named = (typeof NAMED)[number]

export type Route =
  | { screen: 'plants' }
  | { screen: 'plant'; plant: string }
  | { screen: 'trials'; plant: string; run: number | null }
  | { screen: 'replay'; replay: number }
  | { screen: 'lessons' | 'projector'; plant: string; lesson: number | null }
  | { screen: 'class'; code: string }
  | { screen: Named }

/** "#/plant/quennerby" → its screen. Anything unknown leads to the list of plants. */
export function readRoute(hash: string): Route {
  const [, screen, plant, part, run] = hash.split('/')
  if (screen === 'plant' && plant && part === 'trials')
    return { screen: 'trials', plant: decode(plant), run: Number(run) || null }
  if (screen === 'plant' && plant && part === 'projector')
    return { screen: 'projector', plant: decode(plant), lesson: null }
  if (screen === 'plant' && plant && part === 'class') {
    const isProjector = hash.endsWith('/projector')
    return {
      screen: isProjector ? 'projector' : 'lessons',
      plant: decode(plant),
      lesson: Number(run) || null,
    }
  }
  if (screen === 'class') return { screen, code: decode(plant ?? '') }
  if (screen === 'plant' && plant) return { screen, plant: decode(plant) }
  if (screen === 'replay' && Number(plant) >= 1) return { screen, replay: Number(plant) }
  const named = NAMED.find((name) => name === screen)
  if (named) return { screen: named }
  return { screen: 'plants' }
}

function decode(part: string): string {
  try {
    return decodeURIComponent(part)
  } catch {
    return part
  }
}

export function plantAddress(plant: string): string {
  return `#/plant/${encodeURIComponent(plant)}`
}

/** The trials of a plant, or one run of them. */
export function trialsAddress(plant: string, run?: number): string {
  return `${plantAddress(plant)}/trials${run === undefined ? '' : `/${run}`}`
}

export function replayAddress(replay: number): string {
  return `#/replay/${replay}`
}

/** The classes of a plant, or the desk of one of them. */
export function lessonAddress(plant: string, lesson?: number): string {
  return `${plantAddress(plant)}/class${lesson === undefined ? '' : `/${lesson}`}`
}

export function projectorAddress(plant: string, lesson: number | null): string {
  return lesson === null ? `${plantAddress(plant)}/projector` : `${lessonAddress(plant, lesson)}/projector`
}

export const route = signal<Route>(readRoute(globalThis.location?.hash ?? ''))

/** Where somebody was before signing in. */
let place = '#/'

function rememberPlace(): void {
  const { screen } = readRoute(location.hash)
  if (screen !== 'sign-in' && screen !== 'set-up') place = location.hash || '#/'
}

export function backToPlace(): void {
  location.hash = place
}

/** Follows the address bar. */
export function followAddress(): void {
  rememberPlace()
  addEventListener('hashchange', () => {
    rememberPlace()
    route.value = readRoute(location.hash)
    scrollTo(0, 0)
  })
}
