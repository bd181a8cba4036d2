/**
 * `npm start`, `npm run simulate`, `npm run build`: installs and builds what is not current, then runs the
 * server (or the simulator) in this very process, so that Ctrl-C and signals go straight to it.
 *
 * No static imports and no syntax newer than Node 13, so that an old Node gets as far as its one sentence.
 */
const RUNNABLE = { server: '../dist/server/main.js', simulator: '../dist/simulator/main.js' }

async function launch(argv) {
  const { nodeVersionFault } = await import('./launch/nodeVersion.mjs')
  const fault = nodeVersionFault(process.versions.node)
  if (fault) return refuse(fault)
  const { ToolFault } = await import('./launch/runTool.mjs')
  const { ensureInstalled } = await import('./launch/install.mjs')
  const { ensureBuilt } = await import('./launch/build.mjs')
  const { buildOnly, run, rest } = takeOwnOptions(argv)
  if (!RUNNABLE[run])
    return refuse(`--run: found "${run}", expected one of ${Object.keys(RUNNABLE).join(', ')}`)
  try {
    await ensureInstalled()
    await ensureBuilt()
  } catch (error) {
    if (error instanceof ToolFault) return refuse(error.message)
    throw error
  }
  if (buildOnly) return
  process.argv.splice(2, Infinity, ...rest)
  await import(RUNNABLE[run])
}

/** Takes out what is meant for this file; everything else belongs to the program that it starts. */
function takeOwnOptions(argv) {
  const rest = [...argv]
  const buildOnly = rest.includes('--build-only')
  if (buildOnly) rest.splice(rest.indexOf('--build-only'), 1)
  const at = rest.indexOf('--run')
  const run = at < 0 ? 'server' : String(rest.splice(at, 2)[1])
  return { buildOnly, run, rest }
}

function refuse(sentence) {
  console.error(sentence)
  process.exitCode = 1
}

launch(process.argv.slice(2)).catch((error) => {
  console.error(error)
  process.exit(1)
})
