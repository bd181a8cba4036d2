import type { AlarmKind } from './kind.ts'

const DEFAULT_MS = 60_000

/** No instrument of the plant has said anything for a while: one alarm instead of one per instrument. */
export const silent: AlarmKind = {
  id: 'silent',
  hasAmount: false,
  lossOf: 'plant',
  isForSafety: false,
  needs: [],
  may: ['after', 'figure'],
  read({ file }) {
    const after = file.after ?? DEFAULT_MS
    return {
      condition: `no message for ${after / 1000} s`,
      uses: [],
      open() {
        let startedAt: number | undefined
        return {
          judge({ now, mono, quietMs }) {
            startedAt ??= mono
            const quiet = Math.min(quietMs, mono - startedAt)
            const since = now - quiet
            return { holds: quiet >= after, value: Number.NaN, at: now, quality: 'good', since }
          },
        }
      },
    }
  },
}
