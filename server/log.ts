import { inspect } from 'node:util'
import pino from 'pino'
import type { Clock } from './clock.ts'
import { printable } from './printable.ts'
import { createSparseLog } from './sparseLog.ts'

export const LOG_FORMATS = ['text', 'json'] as const
export type LogFormat = (typeof LOG_FORMATS)[number]

/**
 * Writes one entry. Anything may stand in the text, whoever it came from.
 * @param cause What was thrown: its message and where it came from follow.
 */
export type Tell = (text: string, level?: 'info' | 'warn' | 'error', cause?: unknown) => void

/** The log of one process. */
export interface Log {
  tell: Tell
  /** Blanks it in all that is written from now on. */
  hide(secret: string): void
}

export interface LogOptions {
  /** Which process this is. */
  name: string
  format: LogFormat
  clock: Clock
  sink: { write(line: string): void }
}

const LONGEST_TEXT = 2000
const LONGEST_STACK = 20
/** A shorter one would blank pieces of common words. */
const SHORTEST_SECRET = 5
/** User and password in an address; what follows a scheme of authorisation. */
const CREDENTIALS = /(?<=:\/\/)[^/@\s]+@|(?<=\b(?:Basic|Bearer) )[\w.~+/=-]+/gi

/** Entries with time, level and process: equal ones are bounded and counted, and nothing in them steers a terminal. */
export function createLog({ name, format, clock, sink }: LogOptions): Log {
  const secrets = new Set<string>()
  const logger = pino(
    {
      base: { process: name, pid: process.pid },
      timestamp: pino.stdTimeFunctions.isoTime,
      formatters: { level: (level) => ({ level }) },
    },
    format === 'json' ? sink : { write: (line) => sink.write(asText(JSON.parse(line) as Entry)) },
  )

  function clean(text: string): string {
    const shown = [...secrets].reduce((rest, secret) => rest.replaceAll(secret, '…'), text)
    return printable(shown.replace(CREDENTIALS, '…').slice(0, LONGEST_TEXT))
  }

  const write: Tell = (text, level = 'info', cause) =>
    logger[level](cause === undefined ? {} : { error: describe(cause, clean) }, clean(text))
  const sparse = createSparseLog(write, clock)
  return {
    tell: (text, level, cause) =>
      sparse(`${level} ${text} ${wordsOf(cause)}`.slice(0, LONGEST_TEXT), text, level, cause),
    hide: (secret) => void (secret.length >= SHORTEST_SECRET && secrets.add(secret)),
  }
}

interface Entry {
  time: string
  level: string
  msg: string
  error?: { message: string; stack: string[] }
}

function describe(cause: unknown, clean: (text: string) => string): NonNullable<Entry['error']> {
  const stack = cause instanceof Error ? (cause.stack ?? '').split('\n') : []
  return {
    message: clean(wordsOf(cause)),
    stack: stack
      .filter((line) => /^\s+at /.test(line))
      .slice(0, LONGEST_STACK)
      .map((line) => clean(line.trim())),
  }
}

function wordsOf(cause: unknown): string {
  return cause instanceof Error ? `${cause.name}: ${cause.message}` : inspect(cause, { depth: 1 })
}

function asText({ time, level, msg, error }: Entry): string {
  const first = `${time} ${level.padEnd(5)} ${msg}${error ? `: ${error.message}` : ''}`
  return [first, ...(error?.stack ?? []).map((line) => `    ${line}`), ''].join('\n')
}
