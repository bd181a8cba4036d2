import type Database from 'libsql'
import type { Passwords } from './access/passwords.ts'
import type { Certificate } from './certificate.ts'
import type { PageOptions, ToPage, ToWatch } from './channel/messages.ts'
import type { Clock } from './clock.ts'
import type { HistoryReader, HistoryStore } from './history/store.ts'
import type { AdmissionLimits } from './http/admission.ts'
import type { OpenBroker } from './ingest/openBroker.ts'
import type { Tell } from './log.ts'
import type { Options } from './options.ts'
import type { Plant } from './plant/plant.ts'
import type { SocketLimits } from './push/socketDoor.ts'
import type { Deriver } from './rederive/deriver.ts'
import type { State } from './state/openState.ts'
import type { TrialThread } from './trials/trialThread.ts'
import type { HealthReply, QueueHealth } from './wire/replies.ts'

/** What the watch touches of the world. `main.ts` gives the real ones; tests and benches give others. */
export interface Edges {
  clock: Clock
  options: Options
  plants: readonly Plant[]
  /** Rows of the watch. Open already; whoever opened it closes it. */
  state: State
  /** Not open yet: opened by the start, closed with the rest. */
  history: HistoryStore
  /** Derives anew what came late. */
  deriver: Deriver
  /** Not started yet: started once everything listens to it, closed with the rest. */
  broker: OpenBroker
  /** With which page and broker encrypt; closed with the rest. */
  certificate?: Certificate | undefined
  /** Starts what plays the demo plants on this broker. */
  simulate?: (mqttUrl: string) => { stop(): void }
  /** Starts a page side; called again when it has ended. */
  launchPage: LaunchPage
  /** Why the run before this one ended by itself. */
  lastFault?: HealthReply['lastFault']
  /** The log. */
  tell: Tell
  /** Of the log. */
  logQueue?: () => QueueHealth
}

export type LaunchPage = (events: PageEvents) => PageProcess

/** A page side as the watch holds it: a process of its own, which may end at any moment. */
export interface PageProcess {
  /** Never waits and never throws; what comes after its end is lost. */
  post(message: ToPage): void
  /** At once, without its doing. */
  kill(): void
}

export interface PageEvents {
  message(message: ToWatch): void
  /** It has ended, by itself or not. @param how For people, e.g. "signal SIGKILL". */
  ended(how: string): void
}

/** What the page side touches of the world besides the watch. `page.ts` gives the real ones. */
export interface PageEdges {
  clock: Clock
  options: PageOptions
  /** Rows of people. Open already; whoever opened it closes it. */
  people: State
  /** Rows of the watch, to be read alone. */
  watched: { database: Database.Database }
  history: HistoryReader
  /** Of what is asked of history. */
  historyQueue?: () => QueueHealth
  /** Where curves are laid and packs made; by default one of its own. */
  trialThread?: TrialThread
  /** By default hashed at the usual cost. */
  passwords?: Passwords
  /** How much one person, phone or network may ask for; by default as usual. */
  limits?: { http: AdmissionLimits; sockets: SocketLimits }
  /** The log. */
  tell: Tell
  /** Of the log. */
  logQueue?: () => QueueHealth
}
