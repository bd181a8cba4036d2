import type { IncomingMessage } from 'node:http'
import type { Clock } from '../clock.ts'
import { isLoopback, networkOf } from '../hosts.ts'
import type { Options } from '../options.ts'
import type { State } from '../state/openState.ts'
import type { Action, ActorRole, SessionReply } from '../wire/access.ts'
import type { QueueHealth } from '../wire/replies.ts'
import { ACTIONS, RIGHTS } from '../wire/rights.ts'
import { type Administer, createAdminister } from './administer.ts'
import { type Audit, createAudit } from './audit.ts'
import { createAuditFile } from './auditFile.ts'
import { createKnownDevices } from './knownDevices.ts'
import { createLockOut } from './lockOut.ts'
import { createMachineEntry, type MachineEntry } from './machineEntry.ts'
import { createPasswords, type Passwords } from './passwords.ts'
import { createPeople, type Person } from './people.ts'
import { createSecondFactors, type SecondFactors } from './secondFactors.ts'
import { createSessions, type Session, type Sessions } from './sessions.ts'
import { createSetUp } from './setUp.ts'
import { createSignIn, type SignIn } from './signIn.ts'
import { readVisitor } from './visitor.ts'

/** Somebody who may be held to account for what happens. */
export interface Actor {
  /** Null for the person at the machine of a demo. */
  id: number | null
  /** For the journal. */
  name: string
  role: ActorRole
  address: string
}

/** Whom limits count a request against: a person, a phone in a lesson, or else the network that it came from. */
export interface Requester {
  kind: 'person' | 'seat' | 'stranger'
  key: string
}

/** Who is asking, and what they may do. */
export interface Access {
  /** The person signed in, or the one at the machine of a demo without users. */
  actor(request: IncomingMessage): Actor | undefined
  /** By the role; besides, reading is open to this machine, and to everybody where that was switched on. */
  may(request: IncomingMessage, action: Action): boolean
  person(request: IncomingMessage): Person | undefined
  /** Of a person who is signed in. */
  session(request: IncomingMessage): Session | undefined
  describe(request: IncomingMessage): SessionReply
  requester(request: IncomingMessage): Requester
  signIn: SignIn
  sessions: Sessions
  machine: MachineEntry
  administer: Administer
  factors: SecondFactors
  audit: Audit
  queues(): QueueHealth[]
  /** Tells the set-up code where one is due, and the way in for this machine; call once, when the page can be reached. */
  announce(pageUrl: string): void
  close(): void
}

export interface AccessOptions {
  state: State
  clock: Clock
  options: Pick<
    Options,
    'demo' | 'plants' | 'openReading' | 'newSetupCode' | 'httpHost' | 'pageName' | 'publicUrl'
  >
  /** Where the set-up code is told: the server's console and nowhere else. */
  onNotice: (text: string) => void
  /** Phones in a lesson. Where one of these asks, reading is no longer open to it. */
  seats?: {
    of(request: IncomingMessage): { key: string } | undefined
    isConfined(request: IncomingMessage): boolean
  }
  /** Tests hash at a lower cost. */
  passwords?: Passwords
}

/** Whom the journal names when nobody is signed in at the machine of a demo. */
export const DEMO_NAME = 'demo (this machine)'
const SWEEP_MS = 30_000

/** Users, sessions, set-up code and audit, as they were stored. */
export function openAccess(given: AccessOptions): Access {
  const { state, clock, options, passwords = createPasswords(), seats } = given
  const people = createPeople(state)
  const sessions = createSessions(state, clock)
  const devices = createKnownDevices(state, clock.now)
  const factors = createSecondFactors(state, clock)
  const lockOut = createLockOut(clock.mono)
  const setUp = createSetUp(state, clock.now)
  const auditFile = createAuditFile(state.folder, given.onNotice)
  const audit = createAudit(state, clock, auditFile)
  const hasUsers = () => people.all().length > 0
  const isDemo = options.demo && options.plants.length === 0
  const machine = createMachineEntry({
    sessions,
    isOffered: isReachedHere(options.httpHost) && options.pageName === null && options.publicUrl === null,
    tell: given.onNotice,
  })
  const stopSweeping = clock.every(SWEEP_MS, sessions.sweep)

  const actorOf = (id: number, address: string): Actor | undefined => {
    const person = people.byId(id)
    return person && { id, name: person.name, role: person.role, address }
  }

  function session(request: IncomingMessage): Session | undefined {
    const found = sessions.find(readVisitor(request))
    return found && people.byId(found.person) && found
  }

  function person(request: IncomingMessage): Person | undefined {
    const found = session(request)
    return found && people.byId(found.person)
  }

  const isThisMachine = (request: IncomingMessage) =>
    machine.holds(sessions.find(readVisitor(request)), request)

  function actor(request: IncomingMessage): Actor | undefined {
    const { address } = readVisitor(request)
    const found = person(request)
    if (found) return actorOf(found.id, address)
    if (seats?.isConfined(request)) return undefined
    return isDemo && !hasUsers() && isThisMachine(request)
      ? { id: null, name: DEMO_NAME, role: 'demo', address }
      : undefined
  }

  function may(request: IncomingMessage, action: Action): boolean {
    if (action === 'attend') return seats?.of(request) !== undefined
    if (can(actor(request), action)) return true
    if (seats?.isConfined(request)) return false
    return action === 'read' && (options.openReading || isThisMachine(request))
  }

  function requester(request: IncomingMessage): Requester {
    const known = person(request)
    if (known) return { kind: 'person', key: `person ${known.id}` }
    if (isThisMachine(request)) return { kind: 'person', key: 'this machine' }
    const seat = seats?.of(request)
    if (seat) return { kind: 'seat', key: `seat ${seat.key}` }
    return { kind: 'stranger', key: `network ${networkOf(readVisitor(request).address)}` }
  }

  function announce(pageUrl: string): void {
    announceSetUp()
    machine.offer(pageUrl)
  }

  function announceSetUp(): void {
    if (!options.newSetupCode && hasUsers()) return
    const code = setUp.renew()
    if (code)
      given.onNotice(
        `Set-up code ${code}: makes an administrator, once, within 24 h, on the page at #/set-up.`,
      )
    else given.onNotice('No set-up code could be made: the data folder cannot be written.')
    if (!hasUsers() && isDemo)
      given.onNotice('Until then whoever enters on this machine may do everything in the demo.')
  }

  return {
    actor,
    may,
    person,
    session,
    requester,
    sessions,
    machine,
    audit,
    factors,
    announce,
    signIn: createSignIn({ people, passwords, sessions, lockOut, devices, setUp, factors, now: clock.now }),
    administer: createAdminister({ people, sessions, devices, factors, now: clock.now }),
    describe(request) {
      const who = actor(request)
      return {
        name: who && who.role !== 'demo' ? who.name : null,
        role: who?.role ?? null,
        actions: ACTIONS.filter((action) => may(request, action)),
        secondFactor: who?.id == null ? null : factors.of(who.id),
        hasUsers: hasUsers(),
      }
    },
    queues: () => [...audit.queues(), lockOut.queue(), passwords.queue()],
    close() {
      stopSweeping()
      sessions.close()
      auditFile.close()
    },
  }
}

/** Whether a browser on this machine reaches the page by a loopback address. */
function isReachedHere(host: string): boolean {
  return isLoopback(host) || host === '0.0.0.0' || host === '::'
}

function can(actor: Actor | undefined, action: Action): boolean {
  return actor !== undefined && RIGHTS[action].includes(actor.role)
}
