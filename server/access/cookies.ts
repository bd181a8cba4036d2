import type { IncomingMessage } from 'node:http'
import type { TLSSocket } from 'node:tls'

/** A secret that a browser keeps: out of reach of scripts, sent to this server's own page only (RFC 6265). */
export interface Cookie {
  read(request: IncomingMessage): string | undefined
  /** The Set-Cookie line that gives it to a browser, or with an empty secret takes it away. */
  line(request: IncomingMessage, secret: string, lifetimeMs: number): string
}

export function cookieOf(name: string): Cookie {
  /** Browsers take a name with this prefix only from HTTPS, with Secure and Path=/. */
  const secureName = `__Host-${name}`
  return {
    read({ headers }) {
      const pairs = (headers.cookie ?? '').split(';').map((pair) => pair.trim())
      const held = (key: string) =>
        pairs.find((pair) => pair.startsWith(`${key}=`))?.slice(key.length + 1) || undefined
      return held(secureName) ?? held(name)
    },
    line(request, secret, lifetimeMs) {
      const isSecure = isOverTls(request)
      return [
        `${isSecure ? secureName : name}=${secret}`,
        'Path=/',
        'HttpOnly',
        'SameSite=Strict',
        `Max-Age=${secret === '' ? 0 : Math.floor(lifetimeMs / 1000)}`,
        ...(isSecure ? ['Secure'] : []),
      ].join('; ')
    },
  }
}

/** Whether the browser sees https: here, or at a proxy before this server. */
export function isOverTls(request: IncomingMessage): boolean {
  return (request.socket as TLSSocket).encrypted === true || request.headers['x-forwarded-proto'] === 'https'
}

export const SESSION_COOKIE = cookieOf('headrace')
/** Of a phone in a lesson. */
export const SEAT_COOKIE = cookieOf('headrace-seat')
