import { existsSync } from 'node:fs'
import { hasTool, type ToolName, tools } from '../tools.ts'
import { runBounded } from './runBounded.ts'

const INSTALL_LIMIT_MS = 10 * 60_000

/** Installs missing system tools where that needs nobody's leave: as root, with Debian's packages. */
export async function prepareTools(names: readonly ToolName[]): Promise<void> {
  const packages = packagesMissing(names)
  if (packages.length === 0 || !isRootOnDebian()) return
  console.log(`Installing Debian packages for the tests: ${packages.join(' ')}`)
  const env = { DEBIAN_FRONTEND: 'noninteractive' }
  await runBounded('apt-get', ['update', '-qq'], { limitMs: INSTALL_LIMIT_MS, env })
  // --no-upgrade: add what is missing, never exchange what this machine already has
  const install = ['install', '-y', '-qq', '--no-install-recommends', '--no-upgrade', ...packages]
  const result = await runBounded('apt-get', install, { limitMs: INSTALL_LIMIT_MS, env })
  if (result.fault) console.log(`The installation did not succeed: apt-get ${result.fault}`)
}

/** The one command a person can type here to get what is missing. */
export function installCommand(names: readonly ToolName[]): string {
  if (process.platform === 'darwin')
    return `brew install ${missing(names)
      .flatMap((tool) => tool.brew ?? [])
      .join(' ')}`
  const install = `apt-get install -y --no-install-recommends ${packagesMissing(names).join(' ')}`
  return isRoot() ? `apt-get update && ${install}` : `sudo sh -c "apt-get update && ${install}"`
}

function packagesMissing(names: readonly ToolName[]): string[] {
  return missing(names).flatMap((tool) => [...tool.debianPackages])
}

function missing(names: readonly ToolName[]) {
  return tools.filter((tool) => names.includes(tool.name) && !hasTool(tool.name))
}

function isRootOnDebian(): boolean {
  return isRoot() && existsSync('/etc/debian_version') && existsSync('/usr/bin/apt-get')
}

function isRoot(): boolean {
  return process.getuid?.() === 0
}
