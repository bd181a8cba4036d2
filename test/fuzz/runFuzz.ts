import { parseArgs } from 'node:util'
import { markdownTable, recordResults } from '../support/results.ts'
import { type FuzzReport, runTarget } from './runTarget.ts'
import { TARGETS } from './targets/index.ts'

const USAGE = `npm run test:fuzz -- [--cases N] [--seed S] [--target NAME] [--path P] [--record]
  --cases N      how many in all, divided among the targets, default 100000
  --seed S       the same seed gives the same cases; by default another one each time
  --target NAME  all cases for one of ${TARGETS.map((one) => one.name).join(', ')}
  --path P       the case that an earlier run has found, with its seed and target
  --record       write the figures into test/RESULTS.md`

/** A target that takes longer is given up [ms]. */
const TARGET_LIMIT_MS = 2 * 3_600_000

/** Runs the targets one after the other; returns the exit code, 1 where anything was found. */
export async function runFuzz(args: readonly string[]): Promise<number> {
  const asked = readArguments(args)
  if (!asked) {
    console.error(USAGE)
    return 1
  }
  const { seed, path, targets, isRecorded } = asked
  const reports: FuzzReport[] = []
  for (const target of targets) {
    const cases = Math.ceil(targets.length === 1 ? asked.cases : asked.cases * target.share)
    const report = await runTarget(target, {
      cases,
      seed,
      limitMs: TARGET_LIMIT_MS,
      ...(path ? { path } : {}),
    })
    reports.push(report)
    console.log(lineOf(report))
  }
  const sum = reports.reduce((all, one) => all + one.cases, 0)
  const faults = reports.filter((one) => one.fault !== undefined).length
  console.log(`${sum} cases, seed ${seed}: ${faults} faults`)
  if (isRecorded)
    recordResults(
      targets.length === 1 ? `fuzz-${targets[0]!.name}` : 'fuzz',
      `npm run test:fuzz -- ${args.join(' ')}`,
      tableOf(reports, seed),
    )
  return faults === 0 ? 0 : 1
}

function lineOf({ target, cases, tookMs, slowestCpuMs, fault }: FuzzReport): string {
  const figures = `${target.padEnd(13)}${String(cases).padStart(9)} cases ${(tookMs / 1000).toFixed(1).padStart(7)} s`
  return `${figures}, slowest ${slowestCpuMs.toFixed(1)} ms CPU${fault === undefined ? '' : `\nFAULT in ${target}: ${fault}`}`
}

function tableOf(reports: readonly FuzzReport[], seed: number): string {
  const rows = reports.map(({ target, cases, tookMs, slowestCpuMs, fault }) => [
    target,
    cases.toLocaleString('en'),
    `${(tookMs / 1000).toFixed(0)} s`,
    `${slowestCpuMs.toFixed(1)} ms`,
    fault === undefined ? 'none' : 'found',
  ])
  const sum = reports.reduce((all, one) => all + one.cases, 0)
  return [
    markdownTable(['target', 'cases', 'took', 'slowest case (CPU)', 'faults'], rows),
    '',
    `${sum.toLocaleString('en')} cases in all, seed ${seed}. A fault is a crash, an answer of 5xx, a rejection that nothing handles, a good reading that is not finite, a changed prototype, more than 50 ms of CPU for one case, or a reply that does not fit its schema.`,
  ].join('\n')
}

function readArguments(args: readonly string[]) {
  try {
    const { values } = parseArgs({
      args: [...args],
      options: {
        cases: { type: 'string', default: '100000' },
        seed: { type: 'string', default: String(Date.now() % 2 ** 31) },
        target: { type: 'string' },
        path: { type: 'string' },
        record: { type: 'boolean', default: false },
      },
    })
    const [cases, seed] = [Number(values.cases), Number(values.seed)]
    const targets = TARGETS.filter(({ name }) => values.target === undefined || values.target === name)
    if (!Number.isInteger(cases) || cases < 1 || !Number.isInteger(seed) || targets.length === 0)
      return undefined
    return { cases, seed, targets, path: values.path, isRecorded: values.record }
  } catch {
    return undefined
  }
}
