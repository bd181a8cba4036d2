/** `npm run test:fuzz -- --cases N`: sends rubbish to everything that takes what strangers send. */
import { makeReady } from '../support/ready.mjs'

await makeReady()
const { runFuzz } = await import('./runFuzz.ts')
process.exit(await runFuzz(process.argv.slice(2)))
