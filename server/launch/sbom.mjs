import { execFile } from 'node:child_process'
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { npmCommand } from './install.mjs'
import { root, ToolFault } from './runTool.mjs'

const run = promisify(execFile)
const LIMIT_MS = 60_000
const MOST_BYTES = 20_000_000

/** How npm marks what is for development alone. It is left out here: `--omit=dev` would drop what both need, too. */
const DEVELOPMENT = 'cdx:npm:package:development'

/**
 * What Headrace ships, on every kind of machine, as a CycloneDX document: each package with version, licence and checksum.
 *
 * @throws {ToolFault} where npm cannot tell.
 */
export async function listOfShipped() {
  const asked = ['sbom', '--sbom-format=cyclonedx', '--sbom-type=application', '--package-lock-only']
  const [command, args] = npmCommand(asked)
  const options = { cwd: root, timeout: LIMIT_MS, maxBuffer: MOST_BYTES, shell: process.platform === 'win32' }
  const { stdout } = await run(command, args, options).catch((error) => {
    throw new ToolFault(`The list of what is shipped (npm sbom) failed: ${error.message}`)
  })
  const all = JSON.parse(stdout)
  const components = all.components.filter(
    ({ properties = [] }) => !properties.some(({ name }) => name === DEVELOPMENT),
  )
  const kept = new Set([all.metadata.component, ...components].map((one) => one['bom-ref']))
  const dependencies = all.dependencies
    .filter(({ ref }) => kept.has(ref))
    .map(({ ref, dependsOn }) => ({ ref, dependsOn: dependsOn.filter((one) => kept.has(one)) }))
  // npm calls the program after the folder that it lies in.
  all.metadata.component.name = 'headrace'
  return { ...all, components, dependencies }
}

/** Writes it to dist/sbom.json. */
export async function writeListOfShipped() {
  const list = await listOfShipped()
  mkdirSync(join(root, 'dist'), { recursive: true })
  writeFileSync(join(root, 'dist/sbom.json'), `${JSON.stringify(list, null, 2)}\n`)
}
