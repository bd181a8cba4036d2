/** `npm run test:fuzz -- --cases N`: sends rubbish to everything that takes what strangers send. */
import { ensureInstalled } from '../../server/launch/install.mjs'
import { ToolFault } from '../../server/launch/runTool.mjs'

try {
  await ensureInstalled()
} catch (error) {
  if (!(error instanceof ToolFault)) throw error
  console.error(error.message)
  process.exit(1)
}
const { register } = await import('tsx/esm/api')
register()
const { runFuzz } = await import('./runFuzz.ts')
process.exit(await runFuzz(process.argv.slice(2)))
