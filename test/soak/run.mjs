/** `npm run soak -- --hours N`: the built demo with people in front of it, for hours; what grows is found. */
import { ensureBuilt } from '../../server/launch/build.mjs'
import { makeReady } from '../support/ready.mjs'

await makeReady(() => ensureBuilt())
const { runSoak } = await import('./runSoak.ts')
process.exit(await runSoak(process.argv.slice(2)))
