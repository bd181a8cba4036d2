import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'

/** A folder for one test, removed with everything in it. */
export function scratchFolder(): {
  path: string
  file: (name: string, content: string | Buffer) => string
  remove: () => void
} {
  const path = mkdtempSync(join(tmpdir(), 'headrace-test-'))
  return {
    path,
    file(name, content) {
      const file = join(path, name)
      mkdirSync(dirname(file), { recursive: true })
      writeFileSync(file, content)
      return file
    },
    remove: () => rmSync(path, { recursive: true, force: true }),
  }
}
