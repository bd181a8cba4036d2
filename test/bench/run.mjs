/** `npm run bench`: builds what is not current, then measures Headrace against a floor in the same run. */
import { ensureBuilt } from '../../server/launch/build.mjs'
import { makeReady } from '../support/ready.mjs'

const args = process.argv.slice(2)
await makeReady(async () => {
  if (!args.includes('--floor')) await ensureBuilt(['server'])
})
const { runBenches } = await import('./runBenches.ts')
process.exit(await runBenches(args))
