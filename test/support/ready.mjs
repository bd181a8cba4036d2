import { ensureInstalled } from '../../server/launch/install.mjs'
import { nodeVersionFault } from '../../server/launch/nodeVersion.mjs'
import { ToolFault } from '../../server/launch/runTool.mjs'

/**
 * What a program in TypeScript needs before it can be imported: Node, packages, whatever `build` builds. A lack of it is one sentence
 * and ends the process.
 */
export async function makeReady(build = async () => {}) {
  const fault = nodeVersionFault(process.versions.node)
  if (fault) end(fault)
  try {
    await ensureInstalled()
    await build()
  } catch (error) {
    if (!(error instanceof ToolFault)) throw error
    end(error.message)
  }
  const { register } = await import('tsx/esm/api')
  register()
}

function end(sentence) {
  console.error(sentence)
  process.exit(1)
}
