import type { BestPoint } from '../../wire/findings.ts'

/** What the best point cannot say, in words; undefined when it says all. */
export function bestRemark({ isAtEnd, isOpen }: BestPoint): string | undefined {
  if (isAtEnd) return 'It lies at the end of the range: the true one may be beyond.'
  if (isOpen) return 'The interval ends where the points end: more points beyond would tell.'
  return undefined
}
