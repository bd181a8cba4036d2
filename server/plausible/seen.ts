import type { Instrument, Plant } from '../plant/plant.ts'
import { plain } from '../wire/numbers.ts'
import type { Doubt } from './doubt.ts'

/** What has come for an instrument since the start. */
export interface Seen {
  received: number
  /** Usual time between two messages [ms]; null while too few came. */
  everyMs: number | null
}

/** A period that is longer or shorter than the plant file says by more than this is told. */
const SLOWER = 1.5
const FASTER = 5
/** So long [ms] something may take to come for the first time. */
const FIRST_MS = 60_000

/**
 * What a plant file says otherwise than what arrives.
 *
 * @param ranMs Time since the start [ms].
 */
export function doubtsSeen(
  { instruments }: Plant,
  seenOf: (instrument: string) => Seen | undefined,
  ranMs: number,
): Doubt[] {
  return instruments.flatMap((one, i) => {
    const seen = seenOf(one.id)
    if (!seen || !one.periodic) return []
    return [...nothingCame(one, seen, ranMs), ...otherPeriod(one, seen)].map(({ field, ...doubt }) => ({
      path: `instruments[${i}].${field}`,
      kind: 'seen' as const,
      ...doubt,
    }))
  })
}

type Found = { field: 'topic' | 'period'; received: string; expected: string }

function nothingCame({ topic, staleAfterMs }: Instrument, { received }: Seen, ranMs: number): Found[] {
  if (received > 0 || ranMs < Math.max(FIRST_MS, staleAfterMs)) return []
  return [
    {
      field: 'topic',
      received: `"${topic}"`,
      expected:
        'a topic on which something comes: nothing did since the start (a slip in it? see the unmapped topics)',
    },
  ]
}

function otherPeriod({ periodMs, staleAfterMs }: Instrument, { everyMs }: Seen): Found[] {
  if (everyMs === null || (everyMs <= SLOWER * periodMs && everyMs >= periodMs / FASTER)) return []
  const stale =
    everyMs > staleAfterMs
      ? `; until then it is stale ${seconds(staleAfterMs)} after each message, and its alarms flap`
      : ''
  return [
    {
      field: 'period',
      received: seconds(periodMs),
      expected: `what comes: a message every ${seconds(everyMs)}${stale}`,
    },
  ]
}

function seconds(ms: number): string {
  return ms < 1000 ? `${plain(ms, 2)} ms` : `${plain(ms / 1000, 2)} s`
}
