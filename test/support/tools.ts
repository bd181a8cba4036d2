import { accessSync, constants, existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'

/**
 * Programs of the operating system that some tests need. A test file that needs one says so in its name:
 * `NAME.mosquitto.test.ts`, `NAME.openssl.test.ts`; everything in test/journey needs chromium. Such files are
 * left out (and listed as not run) where the program is missing.
 */
export type ToolName = 'mosquitto' | 'chromium' | 'openssl' | 'systemd'

interface Tool {
  name: ToolName
  /** Any one of these will do. */
  programs: readonly string[]
  debianPackages: readonly string[]
  /** Arguments of `brew install`; some things are not to be had there. */
  brew?: string
}

export const tools: readonly Tool[] = [
  {
    name: 'mosquitto',
    programs: ['mosquitto'],
    debianPackages: ['mosquitto', 'mosquitto-clients'],
    brew: 'mosquitto',
  },
  {
    name: 'chromium',
    programs: ['chromium', 'chromium-browser', 'google-chrome'],
    // without a font Chromium draws no text at all
    debianPackages: ['chromium', 'fonts-dejavu-core'],
    brew: 'chromium',
  },
  { name: 'openssl', programs: ['openssl'], debianPackages: ['openssl'], brew: 'openssl' },
  { name: 'systemd', programs: ['systemd-notify'], debianPackages: ['systemd'] },
]

/** Servers live in sbin, which is not on everybody's PATH. */
const MORE_FOLDERS = ['/usr/local/sbin', '/usr/sbin', '/sbin', '/opt/homebrew/bin', '/opt/homebrew/sbin']

/** Full path of the program, or undefined where it is not installed. */
export function toolPath(name: ToolName): string | undefined {
  const folders = [...(process.env['PATH'] ?? '').split(delimiter), ...MORE_FOLDERS]
  const { programs } = tools.find((tool) => tool.name === name)!
  return programs
    .flatMap((program) => folders.map((folder) => join(folder || '.', program)))
    .find((path) => isExecutable(path))
}

export function hasTool(name: ToolName): boolean {
  return toolPath(name) !== undefined
}

/** How the names of the test files end that need this tool. */
export function endingOf(name: ToolName): string {
  return `.${name}.test.ts`
}

/** Globs of the test files that cannot run here, for vitest's `exclude`. */
export function testsThatCannotRun(): string[] {
  return tools.filter((tool) => !hasTool(tool.name)).map((tool) => `test/**/*${endingOf(tool.name)}`)
}

function isExecutable(path: string): boolean {
  if (!existsSync(path)) return false
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}
