import type { IncomingMessage } from 'node:http'
import type { RequestHandler } from 'express'
import { isLoopback } from '../options.ts'
import { HttpFault } from './errors.ts'

/**
 * A page from elsewhere must not act here, nor read through a name that it made point to this machine.
 * Programs send no Origin; browsers always do on a write.
 */
export function isSameOrigin(request: IncomingMessage): boolean {
  const { origin, host } = request.headers
  const site = request.headers['sec-fetch-site']
  if (site !== undefined && site !== 'same-origin' && site !== 'none') return false
  if (origin === undefined) return true
  return URL.canParse(origin) && new URL(origin).host === host
}

/** On a loopback address only loopback names are answered: a foreign name could be rebound to this machine. */
export function isKnownHost(request: IncomingMessage, boundHost: string): boolean {
  if (!isLoopback(boundHost)) return true
  const name = (request.headers.host ?? '').replace(/:\d+$/, '').replace(/^\[|\]$/g, '')
  return isLoopback(name)
}

export function requireKnownHost(boundHost: string): RequestHandler {
  return (request, _response, next) => {
    if (!isKnownHost(request, boundHost))
      throw new HttpFault(403, { error: 'This server answers only under a loopback name such as 127.0.0.1.' })
    next()
  }
}

/** For everything that changes something. Forms cannot send JSON, nor the methods that go without a body. */
export const requireOwnPage: RequestHandler = (request, _response, next) => {
  if (!isSameOrigin(request))
    throw new HttpFault(403, { error: 'Actions are taken only from this server’s own page.' })
  if (request.method !== 'DELETE' && !request.is('application/json'))
    throw new HttpFault(415, { error: 'Expected a body with content-type application/json.' })
  next()
}
