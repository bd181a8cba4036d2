/** `npm run soak -- --hours N`: the built demo with people in front of it, for hours; what grows is found. */
import { ensureBuilt } from '../../server/launch/build.mjs'
import { ensureInstalled } from '../../server/launch/install.mjs'
import { ToolFault } from '../../server/launch/runTool.mjs'

try {
  await ensureInstalled()
  await ensureBuilt()
} catch (error) {
  if (!(error instanceof ToolFault)) throw error
  console.error(error.message)
  process.exit(1)
}
const { register } = await import('tsx/esm/api')
register()
const { runSoak } = await import('./runSoak.ts')
process.exit(await runSoak(process.argv.slice(2)))
