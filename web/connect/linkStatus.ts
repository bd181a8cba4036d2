import type { SourceView } from '../../server/wire/plant.ts'
import { durationWords } from '../format/age.ts'

/**
 * Silence [ms] after which the page says so: with the step in which it looks, within two seconds. The server
 * sends a frame at least every second, if only an empty one.
 */
export const QUIET_MS = 1700
/** Silence [ms] after which the page joins anew, to find out whether the connection is dead. */
export const PROBE_MS = 6000

/** idle: no plant wanted · joining · live · lost: no socket · refused: the server does not know the plant. */
export type LinkPhase = 'idle' | 'joining' | 'live' | 'lost' | 'refused'

export interface LinkState {
  phase: LinkPhase
  /** Time [ms] since the last frame or snapshot, or since the wish to join. */
  silentMs: number
  /** What the server answered when it refused. */
  detail?: string | undefined
}

export interface LinkNotice {
  kind: 'connecting' | 'lost' | 'quiet' | 'source' | 'refused'
  text: string
}

/**
 * What is wrong between the instruments and this page, or null. The nearest fault is told first: with no
 * connection to the server nobody here can know how its source is.
 */
export function linkNotice(link: LinkState, source: SourceView | null): LinkNotice | null {
  const silent = durationWords(link.silentMs)
  if (link.phase === 'refused')
    return { kind: 'refused', text: link.detail ?? 'The server refused this plant.' }
  if (link.phase === 'lost')
    return { kind: 'lost', text: `No connection to the server for ${silent}. Trying again. ${LAST_KNOWN}` }
  if (link.phase === 'joining' && link.silentMs >= QUIET_MS)
    return { kind: 'connecting', text: `Waiting for the server for ${silent}. ${LAST_KNOWN}` }
  if (link.phase === 'live' && link.silentMs >= QUIET_MS)
    return { kind: 'quiet', text: `The server has sent nothing for ${silent}. ${LAST_KNOWN}` }
  if (source && !source.connected) return { kind: 'source', text: sourceText(source) }
  return null
}

const LAST_KNOWN = 'The figures are the last ones received.'

function sourceText(source: SourceView): string {
  const detail = source.detail ? ` (${source.detail})` : ''
  return `No measurements reach the server: ${source.name} is not connected${detail}. ${LAST_KNOWN}`
}

export type LinkStep = 'nothing' | 'join' | 'reopen'

/**
 * What to do about silence on an open socket. A connection can die without closing; joining again either
 * brings a fresh snapshot or, unanswered, proves that the socket must be opened anew.
 */
export function nextStep(link: LinkState, probe: 'none' | 'waiting' | 'unanswered'): LinkStep {
  if (link.phase !== 'live' && link.phase !== 'joining') return 'nothing'
  if (probe === 'unanswered') return 'reopen'
  return link.silentMs >= PROBE_MS && probe === 'none' ? 'join' : 'nothing'
}

/** Wait [ms] before attempt n (0, 1, …) of something that failed: 1, 2, 4, 8 s, then every 8 s. */
export function retryDelay(attempt: number): number {
  return 1000 * 2 ** Math.min(attempt, 3)
}

/** Fetches a part of the program; while the connection is down, again and again, telling each time. */
export async function untilLoaded<T>(
  load: () => Promise<T>,
  onFailure?: () => void,
  attempt = 0,
): Promise<T> {
  try {
    return await load()
  } catch {
    onFailure?.()
    await new Promise((resolve) => setTimeout(resolve, retryDelay(attempt)))
    return untilLoaded(load, onFailure, attempt + 1)
  }
}
