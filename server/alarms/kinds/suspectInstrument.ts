import type { AlarmKind } from './kind.ts'

/**
 * An instrument that does not fit the others, or stands still while they move. What follows from it looks like a
 * measurement all the same, and on an unattended plant nobody sees the screen that says so.
 */
export const suspectInstrument: AlarmKind = {
  id: 'suspectInstrument',
  hasAmount: false,
  isForSafety: false,
  needs: [],
  may: [],
  read: () => ({
    condition: 'an instrument that does not fit the others, or stands still while they move',
    uses: [],
    open({ suspicions }) {
      return {
        judge: ({ now }) => ({ holds: suspicions().length > 0, value: Number.NaN, at: now, quality: 'good' }),
        detail: () => suspicions().join(' ') || undefined,
      }
    },
  }),
}
