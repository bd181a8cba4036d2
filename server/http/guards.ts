import type { IncomingMessage } from 'node:http'
import type { Request, RequestHandler } from 'express'
import { hostName, isLoopback } from '../hosts.ts'
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

/** Where this server listens, and the name under which a proxy serves its page, if one does. */
export interface Home {
  host: string
  pageName: string | null
}

/** On a loopback address only our own names are answered: a foreign one could be rebound to this machine. */
export function isKnownHost(request: IncomingMessage, { host, pageName }: Home): boolean {
  if (!isLoopback(host)) return true
  const name = hostName(request.headers.host)
  return isLoopback(name) || name === pageName
}

export function requireKnownHost(home: Home): RequestHandler {
  return (request, _response, next) => {
    if (!isKnownHost(request, home))
      throw new HttpFault(403, {
        error:
          'This server answers only under a loopback name such as 127.0.0.1, or that given as --page-name.',
      })
    next()
  }
}

/**
 * For everything that changes something. Forms cannot send JSON, nor the methods that go without a body.
 * @throws {HttpFault}
 */
export function checkOwnPage(request: Request): void {
  if (!isSameOrigin(request))
    throw new HttpFault(403, { error: 'Actions are taken only from this server’s own page.' })
  if (request.method !== 'DELETE' && !request.is('application/json'))
    throw new HttpFault(415, { error: 'Expected a body with content-type application/json.' })
  // A few bytes may unfold to any number of them.
  if ((request.headers['content-encoding'] ?? 'identity') !== 'identity')
    throw new HttpFault(415, { error: 'Expected a body that is not compressed, without content-encoding.' })
}
