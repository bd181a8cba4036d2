import type { IncomingMessage } from 'node:http'
import type { TLSSocket } from 'node:tls'
import { hostName, isLoopback } from '../hosts.ts'
import { browserWords } from './browserWords.ts'

/** What a request says about where it comes from and whose session it belongs to. */
export interface Visitor {
  /** For the audit and the lock-out, never for a right. */
  address: string
  /**
   * True for a program on this very machine that asks for it by a loopback name, so that it is neither a proxy
   * passing on what somebody else sent, nor a page whose own name was rebound to this machine.
   */
  isThisMachine: boolean
  /** What the session cookie holds. */
  token: string | undefined
}

/** Where somebody sits, for the list of their own sessions. */
export interface Whereabouts {
  address: string
  /** In words; undefined for a program that names none. */
  browser?: string | undefined
}

/** A program that passes requests on names itself in one of these. */
const PROXY_HEADERS = ['forwarded', 'x-forwarded-for', 'x-forwarded-host', 'x-real-ip', 'via']

export function readVisitor(request: IncomingMessage): Visitor {
  const peer = (request.socket.remoteAddress ?? 'unknown').replace(/^::ffff:/, '')
  const isProxied = PROXY_HEADERS.some((name) => request.headers[name] !== undefined)
  return {
    address: isProxied && isLoopback(peer) ? behindProxy(request, peer) : peer,
    isThisMachine: isLoopback(peer) && !isProxied && isLoopback(hostName(request.headers.host)),
    token: SESSION_COOKIE.read(request),
  }
}

export function whereaboutsOf(request: IncomingMessage): Whereabouts {
  return { address: readVisitor(request).address, browser: browserWords(request.headers['user-agent']) }
}

/** The last entry is what the proxy on this machine saw itself; those before it are hearsay. */
function behindProxy(request: IncomingMessage, peer: string): string {
  const last = String(request.headers['x-forwarded-for'] ?? '')
    .split(',')
    .at(-1)!
    .trim()
  return /^[0-9a-fA-F.:]{2,45}$/.test(last) ? last : `${peer} (proxy)`
}

/** A secret that a browser keeps: out of reach of scripts, sent to this server's own page only (RFC 6265). */
export interface Cookie {
  read(request: IncomingMessage): string | undefined
  /** The Set-Cookie line that gives it to a browser, or with an empty secret takes it away. */
  line(request: IncomingMessage, secret: string, lifetimeMs: number): string
}

function cookieOf(name: string): Cookie {
  /** Browsers take a name with this prefix only from HTTPS, with Secure and Path=/. */
  const secureName = `__Host-${name}`
  return {
    read(request) {
      const pairs = (request.headers.cookie ?? '').split(';').map((pair) => pair.trim())
      const held = (key: string) =>
        pairs.find((pair) => pair.startsWith(`${key}=`))?.slice(key.length + 1) || undefined
      // Under https only what this server gave itself: another site of the domain may have planted the plain one.
      return held(secureName) ?? (isOverTls(request) ? undefined : held(name))
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
  return isTlsPort(request) || request.headers['x-forwarded-proto'] === 'https'
}

/** Whether our own port speaks TLS, whatever a proxy before it does. */
export function isTlsPort(request: IncomingMessage): boolean {
  return (request.socket as TLSSocket).encrypted === true
}

export const SESSION_COOKIE = cookieOf('headrace')
/** Of a browser, for those who signed in with it before; stays when they sign out. */
export const DEVICE_COOKIE = cookieOf('headrace-known')
/** Of a phone in a lesson. */
export const SEAT_COOKIE = cookieOf('headrace-seat')
