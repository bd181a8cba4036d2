import { mkdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { root } from '../root.ts'
import type { ToolName } from '../tools.ts'
import { askForAdvisories } from './advisories.ts'
import { nodeOf, otherNodes } from './nodes.ts'
import { runBounded } from './runBounded.ts'
import { FAILED_WHOLE, readTally, SKIPPED_WHOLE, sumTallies, type Tally } from './tally.ts'

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
    run: (filters) => runVitest('unit', { filters, limitMs: 15 * MINUTE_MS }),
  },
  {
    name: 'fault',
    covers:
      'fault tests: killed processes, cut and stalled networks, full disks, stepped clocks, damaged files',
    needs: [],
    uses: ['mosquitto', 'openssl', 'systemd'],
    run: (filters) => runBuilt('fault', { filters, limitMs: 15 * MINUTE_MS }),
  },
  {
    name: 'nodes',
    covers: 'the other versions of Node: contracts, what both sides know, the built server',
    needs: [],
    uses: [],
    run: runOnOtherNodes,
  },
  {
    name: 'journey',
    covers: 'journeys through the page in a real browser',
    needs: ['chromium'],
    uses: ['mosquitto', 'openssl'],
    run: (filters) => runBuilt('journey', { filters, limitMs: 20 * MINUTE_MS }),
  },
]

/** A check that is one program and counts as one test. */
async function runCheck(script: string, args: string[]): Promise<Tally> {
  const { fault } = await runBounded(process.execPath, [script, ...args], { limitMs: 5 * MINUTE_MS })
  return fault ? FAILED_WHOLE : { passed: 1, failed: 0, skipped: 0, files: [] }
}

/** Tests that start the built server as users do. */
async function runBuilt(project: string, wish: VitestWish): Promise<Tally> {
  const build = ['server/launch.mjs', '--build-only']
  const { fault } = await runBounded(process.execPath, build, { limitMs: 5 * MINUTE_MS })
  return fault ? FAILED_WHOLE : runVitest(project, wish)
}

/** Something of everything that a version of Node can break: its natives, its sockets, a whole server. */
async function runOnOtherNodes(): Promise<Tally> {
  const tallies: Tally[] = []
  for (const major of otherNodes) {
    const found = await nodeOf(major)
    console.log('fault' in found ? `Not run on Node ${major}: ${found.fault}.` : `Node ${major}:`)
    if ('fault' in found) tallies.push(SKIPPED_WHOLE)
    else {
      const wish = { node: found.node, limitMs: 2 * MINUTE_MS }
      tallies.push(await runVitest('unit', { ...wish, filters: ['test/contract/', 'test/server/wire/'] }))
      tallies.push(await runBuilt('fault', { ...wish, filters: ['test/fault/builtServer'] }))
    }
  }
  return sumTallies(tallies)
}

interface VitestWish {
  /** Of paths of test files. */
  filters: readonly string[]
  limitMs: number
  /** By default the one that runs this. */
  node?: string
}

async function runVitest(
  project: string,
  { filters, limitMs, node = process.execPath }: VitestWish,
): Promise<Tally> {
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
  const { fault } = await runBounded(node, args, { limitMs })
  const tally = readTally(report)
  if (!fault) return tally
  console.log(`vitest ${fault}`)
  return tally.failed > 0 ? tally : { ...tally, failed: 1 }
}
