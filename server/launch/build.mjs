import { mkdirSync, readdirSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { root, runTool } from './runTool.mjs'
import { writeListOfShipped } from './sbom.mjs'

/** What is built from what, by the configuration in the folder `id` where nothing else is said. A stamp carries the time at which its last good build began. */
const PARTS = [
  {
    id: 'server',
    name: 'server and simulator',
    sources: ['server', 'simulator', 'tsconfig.json', 'package-lock.json'],
    product: 'dist/server/main.js',
    stamp: 'dist/.server-built',
  },
  {
    id: 'web',
    name: 'web page',
    sources: ['web', 'server/wire', 'tsconfig.json', 'package-lock.json'],
    product: 'dist/web/index.html',
    stamp: 'dist/.web-built',
  },
  {
    id: 'sbom',
    name: 'list of what is shipped',
    sources: ['package-lock.json'],
    product: 'dist/sbom.json',
    stamp: 'dist/.sbom-built',
    build: writeListOfShipped,
  },
]

/**
 * Builds the parts whose sources are newer than their last good build. Costs a few ms when all is current.
 *
 * @param {string[]} ids Which parts: "server" (with the simulator), "web", "sbom"; all by default.
 */
export async function ensureBuilt(ids = PARTS.map((part) => part.id)) {
  for (const part of PARTS) {
    const began = new Date()
    if (!ids.includes(part.id) || isCurrent(part)) continue
    console.log(`Building ${part.name}`)
    await (part.build ?? buildByVite)(part)
    const stamp = join(root, part.stamp)
    mkdirSync(dirname(stamp), { recursive: true })
    writeFileSync(stamp, '')
    utimesSync(stamp, began, began)
  }
}

function buildByVite({ id, name }) {
  const vite = ['node_modules/vite/bin/vite.js', 'build', id, '--logLevel', 'warn']
  return runTool(`The build of the ${name} (vite)`, process.execPath, vite)
}

function isCurrent({ sources, product, stamp }) {
  try {
    statSync(join(root, product))
    return newest(sources.map((source) => join(root, source))) < statSync(join(root, stamp)).mtimeMs
  } catch {
    return false
  }
}

/** Latest time of change of these files and everything below them; a folder's own time tells of removals. */
function newest(paths) {
  return paths.reduce((latest, path) => {
    const entry = statSync(path)
    const below = entry.isDirectory() ? newest(readdirSync(path).map((name) => join(path, name))) : 0
    return Math.max(latest, entry.mtimeMs, below)
  }, 0)
}
