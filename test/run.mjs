/**
 * `npm test [-- SUITE [FILTER…]]`: every check that this machine can run, from a fresh clone, in one command.
 * What this needs first (Node, packages) is seen to by support/ready.mjs; the rest is TypeScript, in support/suites/.
 */
import { makeReady } from './support/ready.mjs'

await makeReady()
const { runSuites } = await import('./support/suites/runSuites.ts')
process.exitCode = await runSuites(process.argv.slice(2))
