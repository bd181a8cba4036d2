import type { AlarmKind } from './kind.ts'

/** Time [ms] that instruments get for their first word after a start. */
const PATIENCE_MS = 30_000
/** When nothing at all comes in for this long [ms], it is the plant that is silent, not one instrument. */
const PLANT_QUIET_MS = 3000

/** A figure that is missing, bad, or older than it may be: the alarms on it are blind. */
export const stale: AlarmKind = {
  id: 'stale',
  needs: ['figure'],
  may: ['after'],
  read({ file, figure }) {
    return {
      condition:
        file.after === undefined ? 'missing or bad' : `missing, bad or older than ${file.after / 1000} s`,
      uses: [],
      open({ figures }) {
        let startedAt: number | undefined
        let wasKnown = false
        return {
          watches: [],
          isWorse: () => false,
          look({ now, mono, quietMs }) {
            startedAt ??= mono
            const at = figures.at(figure.id)
            const isOld = file.after !== undefined && now - at > file.after
            const isLost = figures.quality(figure.id) === 'bad' || isOld
            wasKnown ||= !isLost
            const staleAfter = Math.min(figures.staleAfterMs(figure.id), PATIENCE_MS)
            const isDue = wasKnown || mono - startedAt > PATIENCE_MS + staleAfter
            const holds = isLost && isDue && quietMs <= PLANT_QUIET_MS
            return { holds, value: Number.NaN, at: now, quality: 'good' }
          },
        }
      },
    }
  },
}
