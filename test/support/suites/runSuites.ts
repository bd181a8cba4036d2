import { markdownTable, recordResults } from '../results.ts'
import type { ToolName } from '../tools.ts'
import { nodeOf } from './nodes.ts'
import { cannotRun, listNotRun, type NotRun } from './notRun.ts'
import { runBounded } from './runBounded.ts'
import { type Suite, suites } from './suites.ts'
import { installCommand, prepareTools } from './systemPackages.ts'
import { printTally, sumTallies, type Tally } from './tally.ts'
import { printTimes, type SuiteTime } from './times.ts'

const HOUR_MS = 3_600_000

/**
 * Runs the suites asked for (all of them without arguments) and returns the exit code: 0 only where something
 * ran and nothing failed. With CI=true whatever could not run has failed. The last line is the tally. `--node 24` before
 * them has that version of Node do it all.
 */
export async function runSuites(given: readonly string[]): Promise<number> {
  if (given[0] === '--node') return runOn(given[1] ?? '', given.slice(2))
  const args = given.filter((one) => one !== RECORD)
  const chosen = choose(args[0])
  if (!chosen) {
    console.error(
      `npm test: found suite "${args[0]}", expected one of ${suites.map((one) => one.name).join(', ')}`,
    )
    return 1
  }
  await prepareTools(chosen.flatMap((suite) => [...suite.needs, ...suite.uses]))
  const times: SuiteTime[] = []
  for (const suite of chosen.filter((one) => !cannotRun(one))) {
    console.log(`\n── ${suite.name}: ${suite.covers}`)
    const began = performance.now()
    const tally = await suite.run(args.slice(1))
    times.push({ suite: suite.name, tookMs: performance.now() - began, tally })
  }
  console.log(`\n${printTimes(times)}`)
  const notRun = listNotRun(chosen)
  printNotRun(notRun)
  if (given.includes(RECORD)) recordSuites(times, given)
  const tallies = times.map((one) => one.tally)
  return conclude(tallies, process.env['CI'] === 'true' ? notRun.length : 0)
}

/** For test/RESULTS.md, where the suite has a block. */
const RECORD = '--record'

function recordSuites(times: readonly SuiteTime[], args: readonly string[]): void {
  for (const { suite, tookMs, tally } of times) {
    const rows = tally.files
      .toSorted((a, b) => (a.file < b.file ? -1 : 1))
      .map((one) => [one.file, `${(one.tookMs / 1000).toFixed(1)} s`])
    const sum = `${printTally(tally)} in ${Math.round(tookMs / 1000)} s, building what was not current included.`
    recordResults(
      suite,
      `npm test -- ${args.join(' ')}`,
      `${sum}\n\n${markdownTable(['file', 'took'], rows)}`,
    )
  }
}

async function runOn(major: string, args: string[]): Promise<number> {
  const found = await nodeOf(major)
  if ('node' in found) {
    const { fault } = await runBounded(found.node, ['test/run.mjs', ...args], { limitMs: HOUR_MS })
    return fault ? 1 : 0
  }
  console.error(`npm test: --node: ${found.fault}`)
  return 1
}

function choose(name: string | undefined): readonly Suite[] | undefined {
  if (name === undefined) return suites
  const suite = suites.find((one) => one.name === name)
  return suite && [suite]
}

function printNotRun(notRun: readonly NotRun[]): void {
  if (notRun.length === 0) return
  console.log('\nNot run on this machine:')
  for (const one of notRun) console.log(`  ${one.what} (needs ${one.missing})`)
  const missing: ToolName[] = [...new Set(notRun.map((one) => one.missing))]
  console.log(`To run them too, install what they need with:\n  ${installCommand(missing)}`)
  if (process.env['CI'] === 'true') console.log('With CI=true each of them counts as failed.')
}

function conclude(tallies: readonly Tally[], alsoFailed: number): number {
  const sum = sumTallies([...tallies, { passed: 0, failed: alsoFailed, skipped: 0, files: [] }])
  console.log(`\n${printTally(sum)}`)
  return sum.failed === 0 && sum.passed + sum.skipped > 0 ? 0 : 1
}
