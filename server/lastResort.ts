import { readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Tell } from './log.ts'
import type { HealthReply } from './wire/replies.ts'

/** Why the server ended by itself the last time. */
export type LastFault = NonNullable<HealthReply['lastFault']>

const FILE = 'last-fault.json'
/** Kept for people, once a start has told of it. */
const TOLD_FILE = 'last-fault-told.json'
const LONGEST_MESSAGE = 500

export interface LastResortOptions {
  /** Where the next start looks for it. */
  folder: string
  now: () => number
  /** Writes and closes everything; absent while the server is starting. */
  stop: () => Promise<void>
  exit: (code: number) => void
  /** The log. */
  tell: Tell
  /** The process ends after this time [ms], closed or not. */
  limitMs: number
}

/**
 * What is done about an exception or a rejection that nobody handled. Whatever it was, the state of the program is in
 * doubt: it is said and stored, what can be closed is closed, and the process ends with code 1, so that whoever
 * supervises it starts it anew.
 */
export function createLastResort(options: LastResortOptions): (error: unknown) => void {
  const { folder, now, stop, exit, tell, limitMs } = options
  let isEnding = false
  return (error) => {
    const { message, stack } = wordsOf(error)
    tell('Headrace ends because of a fault that nothing handled', 'error', error)
    if (isEnding) return
    isEnding = true
    try {
      writeFileSync(join(folder, FILE), JSON.stringify({ at: now(), message, stack }))
    } catch (refusal) {
      tell('The fault could not be stored for the next start', 'error', refusal)
    }
    setTimeout(() => exit(1), limitMs).unref()
    stop()
      .catch((failure) => tell('Not everything could be closed', 'error', failure))
      .finally(() => exit(1))
  }
}

/** @returns why the run before this one ended by itself, told once; null where it did not. */
export function takeLastFault(folder: string): LastFault | null {
  try {
    const { at, message } = JSON.parse(readFileSync(join(folder, FILE), 'utf8')) as LastFault
    renameSync(join(folder, FILE), join(folder, TOLD_FILE))
    return { at: Number(at), message: String(message) }
  } catch {
    return null
  }
}

function wordsOf(error: unknown): { message: string; stack: string } {
  const text = error instanceof Error ? error.message : String(error)
  const message = text.replace(/\p{Cc}+/gu, ' ').slice(0, LONGEST_MESSAGE)
  return { message, stack: error instanceof Error ? (error.stack ?? '') : '' }
}
