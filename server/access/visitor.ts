import type { IncomingMessage } from 'node:http'
import { hostName, isLoopback } from '../hosts.ts'
import { SESSION_COOKIE } from './cookies.ts'

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

/** The last entry is what the proxy on this machine saw itself; those before it are hearsay. */
function behindProxy(request: IncomingMessage, peer: string): string {
  const last = String(request.headers['x-forwarded-for'] ?? '')
    .split(',')
    .at(-1)!
    .trim()
  return /^[0-9a-fA-F.:]{2,45}$/.test(last) ? last : `${peer} (proxy)`
}
