/**
 * `npm test [-- SUITE [FILTER…]]`: every check that this machine can run, from a fresh clone, in one command.
 * What this needs first (Node, packages) is seen to here; the rest is TypeScript, in support/suites/.
 */
import { ensureInstalled } from '../server/launch/install.mjs'
import { nodeVersionFault } from '../server/launch/nodeVersion.mjs'
import { ToolFault } from '../server/launch/runTool.mjs'

const fault = nodeVersionFault(process.versions.node)
if (fault) {
  console.error(fault)
  process.exit(1)
}
try {
  await ensureInstalled()
} catch (error) {
  if (!(error instanceof ToolFault)) throw error
  console.error(error.message)
  process.exit(1)
}
const { register } = await import('tsx/esm/api')
register()
const { runSuites } = await import('./support/suites/runSuites.ts')
process.exitCode = await runSuites(process.argv.slice(2))
