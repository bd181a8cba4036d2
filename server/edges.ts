import type { Passwords } from './access/passwords.ts'
import type { Clock } from './clock.ts'
import type { HistoryStore } from './history/store.ts'
import type { AdmissionLimits } from './http/admission.ts'
import type { OpenBroker } from './ingest/openBroker.ts'
import type { Options } from './options.ts'
import type { Plant } from './plant/plant.ts'
import type { SocketLimits } from './push/socketDoor.ts'
import type { State } from './state/openState.ts'
import type { TrialThread } from './trials/trialThread.ts'
import type { HealthReply } from './wire/replies.ts'

/** What the program touches of the world. `main.ts` gives the real ones; tests and benches give others. */
export interface Edges {
  clock: Clock
  options: Options
  plants: readonly Plant[]
  /** Open already; whoever opened it closes it. */
  state: State
  /** Not open yet: opened by the start, closed with the rest. */
  history: HistoryStore
  /** Not started yet: started once everything listens to it, closed with the rest. */
  broker: OpenBroker
  /** Starts what plays the demo plants on this broker. */
  simulate?: (mqttUrl: string) => { stop(): void }
  /** Where curves are laid and packs made; by default one of its own. */
  trialThread?: TrialThread
  /** By default hashed at the usual cost. */
  passwords?: Passwords
  /** How much one person, phone or network may ask for; by default as usual. */
  limits?: { http: AdmissionLimits; sockets: SocketLimits }
  /** Why the run before this one ended by itself. */
  lastFault?: HealthReply['lastFault']
  /** The console. */
  tell: (text: string) => void
}
