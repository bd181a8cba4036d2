import { mkdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { root } from '../root.ts'
import type { ToolName } from '../tools.ts'
import { askForAdvisories } from './advisories.ts'
import { runBounded } from './runBounded.ts'
import { FAILED_WHOLE, readTally, type Tally } from './tally.ts'

export interface Suite {
  name: string
  /** For the list of what was not run. */
  covers: string
  /** Tools without which none of it can run. */
  needs: readonly ToolName[]
  /** Tools that single files of it need, as their names say (tools.ts). */
  uses: readonly ToolName[]
  run(filters: readonly string[]): Promise<Tally>
}

const MINUTE_MS = 60_000
const OUTPUT = join(root, 'test/.output')

/** In the order in which they run: the quickest to tell of a mistake first. */
export const suites: readonly Suite[] = [
  {
    name: 'types',
    covers: 'types of the whole tree (tsc)',
    needs: [],
    uses: [],
    run: () => runCheck('node_modules/typescript/bin/tsc', ['--noEmit']),
  },
  {
    name: 'lint',
    covers: 'format and lint rules (biome)',
    needs: [],
    uses: [],
    run: () => runCheck('node_modules/@biomejs/biome/bin/biome', ['check', '.']),
  },
  {
    name: 'advisories',
    covers: 'known advisories on what is shipped (npm audit)',
    needs: [],
    uses: [],
    run: askForAdvisories,
  },
  {
    name: 'unit',
    covers: 'unit, reference, contract and shape tests',
    needs: [],
    uses: ['mosquitto', 'openssl'],
    run: (filters) => runVitest('unit', filters, 15 * MINUTE_MS),
  },
  {
    name: 'fault',
    covers:
      'fault tests: killed processes, cut and stalled networks, full disks, stepped clocks, damaged files',
    needs: [],
    uses: ['mosquitto', 'openssl', 'systemd'],
    run: (filters) => runBuilt('fault', filters, 15 * MINUTE_MS),
  },
  {
    name: 'journey',
    covers: 'journeys through the page in a real browser',
    needs: ['chromium'],
    uses: ['mosquitto', 'openssl'],
    run: (filters) => runBuilt('journey', filters, 20 * MINUTE_MS),
  },
]

/** A check that is one program and counts as one test. */
async function runCheck(script: string, args: string[]): Promise<Tally> {
  const { fault } = await runBounded(process.execPath, [script, ...args], { limitMs: 5 * MINUTE_MS })
  return fault ? FAILED_WHOLE : { passed: 1, failed: 0, skipped: 0, files: [] }
}

/** Tests that start the built server as users do. */
async function runBuilt(project: string, filters: readonly string[], limitMs: number): Promise<Tally> {
  const build = ['server/launch.mjs', '--build-only']
  const { fault } = await runBounded(process.execPath, build, { limitMs: 5 * MINUTE_MS })
  return fault ? FAILED_WHOLE : runVitest(project, filters, limitMs)
}

async function runVitest(project: string, filters: readonly string[], limitMs: number): Promise<Tally> {
  const report = join(OUTPUT, `${project}.json`)
  mkdirSync(OUTPUT, { recursive: true })
  rmSync(report, { force: true })
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`]
  const args = [
    'node_modules/vitest/vitest.mjs',
    'run',
    '--config',
    'test/vitest.config.ts',
    '--project',
    project,
    ...reporters,
    ...filters,
  ]
  const { fault } = await runBounded(process.execPath, args, { limitMs })
  const tally = readTally(report)
  if (!fault) return tally
  console.log(`vitest ${fault}`)
  return tally.failed > 0 ? tally : { ...tally, failed: 1 }
}
