import type { CheckView } from '../../wire/findings.ts'
import type { Section } from './packParts.ts'

const STATES: Record<CheckView['state'], string> = {
  holds: 'holds',
  fails: 'does not hold',
  unknown: 'not yet known',
  byEye: 'for the eye',
}

/** What a sound result looks like, and what the run says to it. */
export function checkSection(checks: readonly CheckView[]): Section {
  return [
    'What a sound result looks like',
    checks.map(({ text, state, finding }) => `${text} [${STATES[state]}] ${finding}`.trim()),
  ]
}
