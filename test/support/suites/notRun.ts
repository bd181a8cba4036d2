import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { root } from '../root.ts'
import { endingOf, hasTool, type ToolName } from '../tools.ts'
import type { Suite } from './suites.ts'

/** Something that was left out, and the tool that it wants. */
export interface NotRun {
  what: string
  missing: ToolName
}

/** True where nothing of this suite can run. */
export function cannotRun(suite: Suite): boolean {
  return !suite.needs.every(hasTool)
}

/** What these suites leave out on this machine: a whole suite as one entry, else one entry per file. */
export function listNotRun(suites: readonly Suite[]): NotRun[] {
  return suites.flatMap((suite) => {
    const lacking = suite.needs.find((tool) => !hasTool(tool))
    if (lacking) return [{ what: `${suite.name}: ${suite.covers}`, missing: lacking }]
    return suite.uses.filter((tool) => !hasTool(tool)).flatMap((tool) => filesNeeding(tool, suite))
  })
}

function filesNeeding(tool: ToolName, suite: Suite): NotRun[] {
  return readdirSync(join(root, 'test'), { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith(endingOf(tool)) && suiteOf(path) === suite.name)
    .map((path) => ({ what: `${suite.name}: test/${path}`, missing: tool }))
}

/** The suite that a test file belongs to, as test/vitest.config.ts divides them. */
function suiteOf(path: string): string {
  const folder = path.split(/[\\/]/)[0]!
  return folder === 'fault' || folder === 'journey' ? folder : 'unit'
}
