import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** A folder for one test, removed with everything in it. */
export function scratchFolder(): {
  path: string
  file: (name: string, text: string) => string
  remove: () => void
} {
  const path = mkdtempSync(join(tmpdir(), 'headrace-test-'))
  return {
    path,
    file(name, text) {
      const file = join(path, name)
      writeFileSync(file, text)
      return file
    },
    remove: () => rmSync(path, { recursive: true, force: true }),
  }
}
