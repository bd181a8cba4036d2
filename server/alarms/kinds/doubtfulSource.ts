import { DOUBT_WORDS, type SourceDoubt } from '../../ingest/sourceWatch.ts'
import type { AlarmKind } from './kind.ts'

/** Without a further sign for this long [ms] by the server's own clock a doubt is over. */
const OVER_MS = 10_000

/**
 * Readings of which nobody can be sure where or when they were measured: two sources on one instrument, readings that
 * overtake each other, a clock that disagrees. What they hide looks good, so this is an alarm of its own.
 */
export const doubtfulSource: AlarmKind = {
  id: 'doubtfulSource',
  hasAmount: false,
  isForSafety: false,
  needs: [],
  may: [],
  read({ plant }) {
    const names = new Map(plant.instruments.map((one) => [one.quantity, one.id]))
    return {
      condition: 'two sources, readings that overtake each other, or a clock that disagrees',
      uses: [],
      open() {
        const doubted = new Map<string, { doubt: SourceDoubt; at: number }>()
        const state = (now: number) => {
          for (const [quantity, { at }] of doubted) if (now - at > OVER_MS) doubted.delete(quantity)
          return { holds: doubted.size > 0, value: Number.NaN, at: now, quality: 'good' as const }
        }
        return {
          watchesDoubt: true,
          takeSample({ quantity, doubt, receivedAt }) {
            if (doubt) doubted.set(quantity, { doubt, at: receivedAt })
            return state(receivedAt)
          },
          judge: ({ now }) => state(now),
          detail: () =>
            doubted.size === 0
              ? undefined
              : [...doubted].map(([of, { doubt }]) => `${names.get(of)}: ${DOUBT_WORDS[doubt]}`).join('; '),
        }
      },
    }
  },
}
