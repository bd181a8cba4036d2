import { printTally, sumTallies, type Tally } from './tally.ts'

export interface SuiteTime {
  suite: string
  /** On the wall, with what it has to build first. */
  tookMs: number
  tally: Tally
}

const SLOWEST_SHOWN = 5
const WORTH_SAYING_MS = 1000

/** A line for each suite with its time and tally, the whole, and the test files that took longest. */
export function printTimes(suites: readonly SuiteTime[]): string {
  const { files } = sumTallies(suites.map((one) => one.tally))
  const slowest = files
    .filter((one) => one.tookMs >= WORTH_SAYING_MS)
    .toSorted((a, b) => b.tookMs - a.tookMs)
    .slice(0, SLOWEST_SHOWN)
  const whole = suites.reduce((sum, one) => sum + one.tookMs, 0)
  return [
    'Time taken:',
    ...suites.map(({ suite, tookMs, tally }) => row(suite, tookMs, printTally(tally))),
    ...(suites.length > 1 ? [row('whole', whole, '')] : []),
    ...(slowest.length > 0 ? ['Slowest files:'] : []),
    ...slowest.map(({ file, tookMs }) => row('', tookMs, file)),
  ].join('\n')
}

function row(name: string, ms: number, rest: string): string {
  return `  ${name.padEnd(10)}${Math.round(ms / 1000)
    .toString()
    .padStart(5)} s  ${rest}`.trimEnd()
}
