import type { Plant } from '../../plant/plant.ts'
import type { AlarmKind } from './kind.ts'

/** Time [ms] that instruments get for their first word after a start. */
const PATIENCE_MS = 30_000
/** When nothing at all comes in for this long [ms], or 2.5 beats of the fastest instrument, the whole plant is silent. */
const PLANT_QUIET_MS = 1000
/** The same where no instrument has a beat. */
const BEATLESS_QUIET_MS = 3000
const QUIET_BEATS = 2.5

/** A figure that is missing, bad, or older than it may be: the alarms on it are blind. */
export const stale: AlarmKind = {
  id: 'stale',
  hasAmount: false,
  lossOf: 'figure',
  isForSafety: false,
  needs: ['figure'],
  may: ['after'],
  read({ file, figure, plant }) {
    const beat = shortestPeriod(plant)
    const quietLimit = beat === 0 ? BEATLESS_QUIET_MS : Math.max(PLANT_QUIET_MS, QUIET_BEATS * beat)
    return {
      condition:
        file.after === undefined ? 'missing or bad' : `missing, bad or older than ${file.after / 1000} s`,
      uses: [],
      open({ figures, periodMs }) {
        let startedAt: number | undefined
        let wasKnown = false
        let isQuiet = false
        let resumedAt = Number.NEGATIVE_INFINITY
        return {
          judge({ now, mono, quietMs }) {
            startedAt ??= mono
            if (isQuiet && quietMs <= quietLimit) resumedAt = mono
            isQuiet = quietMs > quietLimit
            const at = figures.at(figure.id)
            const isOld = file.after !== undefined && now - at > file.after
            const isLost = figures.quality(figure.id) === 'bad' || isOld
            wasKnown ||= !isLost
            const staleAfter = Math.min(figures.staleAfterMs(figure.id), PATIENCE_MS)
            const isDue = wasKnown || mono - startedAt > PATIENCE_MS + staleAfter
            // A gateway that was silent brings its instruments back one after the other: each gets its time once more.
            const grace = Math.min(file.after ?? staleAfter, PATIENCE_MS)
            const holds = isLost && isDue && !isQuiet && mono - resumedAt > grace
            const since = Number.isNaN(at) ? {} : { since: Math.min(at + periodMs, now) }
            return { holds, value: Number.NaN, at: now, quality: 'good', ...since }
          },
        }
      },
    }
  },
}

/** Beat [ms] of the fastest instrument that speaks regularly; 0 where none does. */
export function shortestPeriod({ instruments }: Plant): number {
  const periods = instruments.filter((one) => one.periodic).map((one) => one.periodMs)
  return periods.length === 0 ? 0 : Math.min(...periods)
}
