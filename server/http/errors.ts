import type { ErrorRequestHandler, RequestHandler } from 'express'
import type { z } from 'zod'
import type { Tell } from '../log.ts'
import type { Outcome } from '../outcome.ts'
import { Busy } from '../turns.ts'
import type { ErrorReply } from '../wire/replies.ts'

/** An answer other than success, for the person or program that asked. */
export class HttpFault extends Error {
  override name = 'HttpFault'
  readonly status: number
  readonly reply: ErrorReply
  readonly retryAfterS: number | undefined

  constructor(status: number, reply: ErrorReply, retryAfterS?: number) {
    super(reply.error)
    this.status = status
    this.reply = reply
    this.retryAfterS = retryAfterS
  }
}

/** @throws {HttpFault} with the refusal. */
export function given<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value
  const { status, error, faults, retryAfterS, needs } = outcome
  throw new HttpFault(status, { error, ...(faults && { faults }), ...(needs && { needs }) }, retryAfterS)
}

/** Where something came in. */
export interface Input {
  where: string
  /** Passwords and codes may stand in it, at a wrong place too: nothing of it is repeated. */
  isSecret?: boolean | undefined
}

/** @throws {HttpFault} 400 with one line per fault: where, what came, what was expected. */
export function readInput<T>(schema: z.ZodType<T>, input: unknown, { where, isSecret = false }: Input): T {
  const parsed = schema.safeParse(input)
  if (parsed.success) return parsed.data
  throw new HttpFault(400, {
    error: `The ${where} cannot be used.`,
    faults: parsed.error.issues.map((issue) => ({
      path: issue.path.join('.'),
      received: isSecret ? 'something else' : show(issue.path.reduce<unknown>(childOf, input)),
      expected:
        isSecret && issue.code === 'unrecognized_keys'
          ? 'nothing else than this takes'
          : issue.message.replace(/^Invalid [a-z]+: /, '').replace(/^expected /, ''),
    })),
  })
}

function childOf(value: unknown, key: PropertyKey): unknown {
  if (value === null || typeof value !== 'object' || !Object.hasOwn(value, key)) return undefined
  return (value as Record<PropertyKey, unknown>)[key]
}

function show(value: unknown): string {
  if (value === undefined) return 'nothing'
  // What stands in it was not asked for, and may be anything.
  if (Array.isArray(value)) return `a list of ${value.length}`
  return value !== null && typeof value === 'object' ? 'an object' : JSON.stringify(value).slice(0, 80)
}

export const answerMissing: RequestHandler = (request, response) => {
  const reply: ErrorReply = { error: `There is nothing at ${request.method} ${request.path.slice(0, 200)}.` }
  response.status(404).json(reply)
}

/** No stack ever leaves the server: it stands in the log. */
export function answerFault(tell: Tell): ErrorRequestHandler {
  // biome-ignore lint/complexity/useMaxParams: express knows a handler of errors by its four parameters
  return (error: unknown, _request, response, next) => {
    if (response.headersSent) return next(error)
    const { status, reply, retryAfterS = status === 503 ? 2 : undefined } = faultOf(error)
    if (status === 500) tell('http: a request could not be answered', 'error', error)
    if (retryAfterS !== undefined) response.set('Retry-After', String(retryAfterS))
    response.status(status).json(reply)
  }
}

function faultOf(error: unknown): Pick<HttpFault, 'status' | 'reply'> & { retryAfterS?: number | undefined } {
  if (error instanceof HttpFault) return error
  if (error instanceof Busy) return { status: error.status, reply: { error: error.message }, retryAfterS: 2 }
  const status = statusOf(error)
  // The reader's own message repeats a piece of the body.
  if (isUnreadable(error)) return { status, reply: { error: 'The body is not JSON that can be read.' } }
  if (status < 500 && error instanceof Error) return { status, reply: { error: error.message } }
  return { status: 500, reply: { error: 'The server could not answer. Its log says why.' } }
}

function isUnreadable(error: unknown): boolean {
  return error instanceof SyntaxError || (error instanceof Error && 'body' in error)
}

/** body-parser and others mark their errors with a status. */
function statusOf(error: unknown): number {
  if (error === null || typeof error !== 'object' || !('status' in error)) return 500
  return typeof error.status === 'number' ? error.status : 500
}
