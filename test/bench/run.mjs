/** `npm run bench`: builds what is not current, then measures Headrace against a floor in the same run. */
import { ensureBuilt } from '../../server/launch/build.mjs'
import { ensureInstalled } from '../../server/launch/install.mjs'
import { ToolFault } from '../../server/launch/runTool.mjs'

const args = process.argv.slice(2)
try {
  await ensureInstalled()
  if (!args.includes('--floor')) await ensureBuilt(['server'])
} catch (error) {
  if (!(error instanceof ToolFault)) throw error
  console.error(error.message)
  process.exit(1)
}
const { register } = await import('tsx/esm/api')
register()
const { runBenches } = await import('./runBenches.ts')
process.exit(await runBenches(args))
