import { randomBytes } from 'node:crypto'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'

const FILE = 'mqtt-client-id'

/**
 * The client id under which an external broker keeps messages for this server: made once for a data folder, random, so
 * that two servers never throw each other out. Undefined where it cannot be stored: the next start could not take the
 * session up again.
 */
export function durableIdOf(folder: string): string | undefined {
  const file = join(folder, FILE)
  try {
    const known = readFileSync(file, 'utf8').trim()
    if (/^headrace-[0-9a-f]{12}$/.test(known)) return known
  } catch {
    // The first start with this folder.
  }
  const id = `headrace-${randomBytes(6).toString('hex')}`
  try {
    writeFileSync(file, `${id}\n`, { mode: 0o600 })
    return id
  } catch {
    return undefined
  }
}
