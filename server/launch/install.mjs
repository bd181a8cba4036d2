import { readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { root, runTool } from './runTool.mjs'

/** Installs the packages that package-lock.json names, where they are missing or other ones. */
export async function ensureInstalled() {
  if (isInstalled()) return
  console.log('Installing packages (npm ci), this happens once')
  // --include=dev: the build tools are needed even where NODE_ENV says production
  await runTool('The installation (npm ci)', ...npmCommand(['ci', '--include=dev']))
}

/** Program and arguments that run the npm by which this was started, or the one on the path. */
export function npmCommand(args) {
  const npm = process.env.npm_execpath
  return npm?.endsWith('npm-cli.js') ? [process.execPath, [npm, ...args]] : ['npm', args]
}

function isInstalled() {
  const wanted = join(root, 'package-lock.json')
  const present = join(root, 'node_modules/.package-lock.json')
  try {
    // a checkout touches package-lock.json without changing it: only then are the two compared in full
    return statSync(wanted).mtimeMs <= statSync(present).mtimeMs || namesTheSame(wanted, present)
  } catch {
    return false
  }
}

function namesTheSame(wanted, present) {
  const there = JSON.parse(readFileSync(present, 'utf8')).packages
  return Object.entries(JSON.parse(readFileSync(wanted, 'utf8')).packages).every(
    ([path, entry]) => path === '' || entry.optional || there[path]?.version === entry.version,
  )
}
