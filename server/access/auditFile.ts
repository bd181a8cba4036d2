import { closeSync, existsSync, fstatSync, openSync, renameSync, rmSync, writeSync } from 'node:fs'
import { join } from 'node:path'
import type { AuditEntry } from '../wire/access.ts'
import type { QueueHealth } from '../wire/replies.ts'

const NAME = 'audit.jsonl'
/** A file of this size [bytes] is put aside, about 20,000 lines. */
export const LARGEST_FILE = 5_000_000
/** Files kept beside the one that is written; the oldest goes. */
export const FILES_KEPT = 9
/** Lines in memory while the disk refuses them. */
const WAITING_LIMIT = 1000

export type AuditRow = Omit<AuditEntry, 'sequence'>

/**
 * A copy of the audit in the data folder for other programs to take away: one JSON line each, only ever added to,
 * "audit.jsonl" and what came before it in "audit.1.jsonl" to "audit.9.jsonl".
 */
export interface AuditFile {
  add(row: AuditRow): void
  queue(): QueueHealth
  close(): void
}

/** @param tell Hears once when the disk begins to refuse it, and when it goes on. */
export function createAuditFile(folder: string, tell: (text: string) => void): AuditFile {
  const waiting: string[] = []
  let file: number | undefined
  let fault: string | null = null
  let dropped = 0
  /** The last line of the file lacks its end. */
  let isTorn = false

  function rotate(): void {
    closeFile()
    rmSync(nameOf(folder, FILES_KEPT), { force: true })
    for (let i = FILES_KEPT - 1; i >= 0; i--)
      if (existsSync(nameOf(folder, i))) renameSync(nameOf(folder, i), nameOf(folder, i + 1))
  }

  function closeFile(): void {
    if (file !== undefined) closeSync(file)
    file = undefined
  }

  /** Oldest first; a line that was written in part is begun anew on a line of its own. */
  function write(): void {
    while (waiting.length > 0) {
      file ??= openSync(nameOf(folder, 0), 'a', 0o600)
      if (fstatSync(file).size >= LARGEST_FILE) {
        rotate()
        continue
      }
      const bytes = Buffer.from(isTorn ? `\n${waiting[0]!}` : waiting[0]!)
      const written = writeSync(file, bytes)
      isTorn = written > 0 && written < bytes.length
      if (written < bytes.length) throw new Error('the disk took only a part of a line')
      waiting.shift()
      if (fault !== null) tell(`audit: ${NAME} is written again.`)
      fault = null
    }
  }

  return {
    add({ at, ...row }) {
      waiting.push(`${JSON.stringify({ at: new Date(at).toISOString(), ...row })}\n`)
      if (waiting.length > WAITING_LIMIT) {
        waiting.shift()
        dropped++
      }
      try {
        write()
      } catch (error) {
        const reason = error instanceof Error ? error.message : String(error)
        if (fault === null) tell(`audit: ${NAME} cannot be written, the database still is: ${reason}`)
        fault = reason
        closeFile()
      }
    },
    queue: () => ({
      name: 'audit entries waiting for their file',
      length: waiting.length,
      limit: WAITING_LIMIT,
      policy: `${fault === null ? '' : `CANNOT BE WRITTEN (${fault}); `}the oldest are given up and counted; ${FILES_KEPT + 1} files of ${LARGEST_FILE / 1e6} MB are kept`,
      dropped,
    }),
    close: closeFile,
  }
}

function nameOf(folder: string, index: number): string {
  return join(folder, index === 0 ? NAME : NAME.replace('.', `.${index}.`))
}
