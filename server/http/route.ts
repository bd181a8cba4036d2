import type { Request, Response } from 'express'
import { z } from 'zod'
import type { Outcome } from '../outcome.ts'
import type { Action } from '../wire/access.ts'
import type { HttpContext } from './context.ts'
import { given } from './errors.ts'
import type { ParamsOf } from './params.ts'

/** What handlers need of the running server, and the address on which it listens. */
export interface RouteContext extends HttpContext {
  host: string
}

/** What a route knows better than its address does. Passwords and codes never belong here. */
export interface AuditNote {
  who?: string
  target?: string
  detail?: string
}

/** A request whose parts were checked against the schemas of its route. */
export interface Asked<Params, Query, Body> {
  params: Params
  query: Query
  body: Body
  request: Request
  response: Response
  /** Adds to the line that the audit will hold about this request. */
  note(note: AuditNote): void
}

/** An answer that is not JSON: its media type. The handler gives a `Document`. */
export interface Media {
  media: string
}

export interface Document {
  content: string | Uint8Array
  /** With a name it is a file to download. */
  name?: string
  /** In place of the page's policy of contents. */
  policy?: string
}

type ReplyOf<R> = R extends z.ZodType ? z.output<R> : Document

interface Row<Path extends string, Query, Body, Reply extends z.ZodType | Media> {
  /** For people who read the description of the interface. */
  summary: string
  /** The word in the audit; without one, the right. */
  action?: string
  query?: z.ZodType<Query>
  body?: z.ZodType<Body>
  /** A refusal repeats nothing of the body. */
  isSecret?: boolean
  /**
   * For what changes who gets in, so that an open browser alone does not: `lately` asks for the password again where
   * this session last showed it too long ago, `body` means that the body holds the present one.
   */
  proof?: 'lately' | 'body'
  reply: Reply
  handle(
    context: RouteContext,
    asked: Asked<ParamsOf<Path>, Query, Body>,
  ): ReplyOf<Reply> | Promise<ReplyOf<Reply>>
}

/** One route of the HTTP interface: who may use it, what it takes and what it answers. */
export interface Route extends Omit<Row<string, unknown, unknown, z.ZodType | Media>, 'handle'> {
  method: 'get' | 'post' | 'patch' | 'delete'
  path: string
  /** `open` is for everybody: what one needs in order to sign in. */
  right: Action | 'open'
  handle(context: RouteContext, asked: Asked<Record<string, unknown>, unknown, unknown>): unknown
}

const rowOf =
  (method: Route['method']) =>
  <const Path extends string, Query, Body, Reply extends z.ZodType | Media>(
    right: Route['right'],
    path: Path,
    row: Row<Path, Query, Body, Reply>,
  ): Route => ({ method, path, right, ...row })

export const get = rowOf('get')
export const post = rowOf('post')
export const patch = rowOf('patch')
export const remove = rowOf('delete')

/** The reply of a deed that has nothing to tell but that it was done. */
export const OK = z.object({ ok: z.literal(true) })

/** @throws {HttpFault} with the refusal. */
export function done(outcome: Outcome<unknown>): z.output<typeof OK> {
  given(outcome)
  return { ok: true }
}

/** A body in which nothing may stand. */
export const NOTHING = z.strictObject({})
export const ZIP: Media = { media: 'application/zip' }

/** Pages of a list that goes back in time. */
export const page = z.object({
  limit: z.coerce.number().int().min(1).max(1000).default(100),
  before: z.coerce.number().int().positive().exactOptional().describe('Sequence number to continue from'),
})
