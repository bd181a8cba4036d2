import type { IncomingMessage } from 'node:http'
import { granted, type Outcome, refuse } from '../outcome.ts'
import { hashCode, isSameHash, makeCode } from './codes.ts'
import type { Session, Sessions } from './sessions.ts'
import { readVisitor, whereaboutsOf } from './visitor.ts'

/** Stands for a person in the sessions of browsers that have shown that they run on this machine; people begin at 1. */
export const MACHINE = 0

/**
 * How a browser shows that it runs on the machine of the server: with an address that stands on the server's console
 * and nowhere else, and works once. An address of the network, a header or the lack of one shows nothing, since a
 * tunnel or a silent proxy brings strangers in by a loopback address.
 */
export interface MachineEntry {
  /** Tells an address that begins with that of the page; call when the page can be reached. */
  offer(pageUrl: string): void
  /** @returns the token of a session. */
  enter(request: IncomingMessage, code: string): Outcome<string>
  /** Whether this session was begun here and is used on this machine still. */
  holds(session: Session | undefined, request: IncomingMessage): boolean
}

export interface MachineEntryOptions {
  sessions: Sessions
  /** False where a public name leads to this server: who comes by it is not told from who sits here. */
  isOffered: boolean
  tell: (text: string) => void
}

/** A server that listens on all addresses is on that of loopback too. */
const WILDCARD = /\/\/(0\.0\.0\.0|\[::\])/

const NOT_HERE = refuse(403, 'This address works only in a browser on the machine of the server.')
const USED = refuse(
  410,
  'This address was used, or is not one of ours. The newest stands on the server’s console.',
)

export function createMachineEntry({ sessions, isOffered, tell }: MachineEntryOptions): MachineEntry {
  let offered: string | null = null
  let page = ''

  function renew(): void {
    const code = makeCode()
    offered = hashCode(code)
    tell(`For a browser on this machine, once: ${page}/enter/${code}`)
  }

  return {
    offer(pageUrl) {
      if (!isOffered) return
      page = pageUrl.replace(WILDCARD, '//127.0.0.1')
      renew()
    },
    enter(request, code) {
      if (!isOffered || !readVisitor(request).isThisMachine) return NOT_HERE
      if (!isSameHash(hashCode(code), offered)) return USED
      const token = sessions.start(MACHINE, whereaboutsOf(request))
      renew()
      return granted(token)
    },
    holds: (session, request) =>
      isOffered && session?.person === MACHINE && readVisitor(request).isThisMachine,
  }
}
