import { execFile } from 'node:child_process'
import type { Clock } from './clock.ts'

/** What the way of a measurement has done since the start. */
export interface Progress {
  /** Rounds in which the figures were brought up to date. */
  evaluations: number
  /** Messages on topics of instruments. */
  received: number
  /** What came of them: readings, faults, repetitions. */
  taken: number
}

/** Whoever started this process and starts it again when it falls silent: systemd, by the protocol of sd_notify(3). */
export interface Supervisor {
  /** It works: the broker listens. From now on signs of life are sent. */
  ready(progress: () => Progress): void
  stopping(): void
}

export interface SupervisorOptions {
  environment: NodeJS.ProcessEnv
  pid: number
  clock: Clock
  /** The console. */
  tell: (text: string) => void
  /** Sends a state, e.g. "READY=1"; by default with the program systemd-notify, since Node has no sockets for datagrams of this kind. */
  send?: (state: string, onFault: (reason: string) => void) => void
}

/** A sign of life goes out in each third of the time after which the process would be ended. */
const SHARE = 3
const SEND_LIMIT_MS = 5000

/**
 * Signs of life come from the way of the readings, not from a bare timer: none is sent where no figure was brought up to date
 * since the one before, or where messages of instruments came and nothing was taken from them. That no instrument speaks is no
 * fault of this process: starting it again would not help, and an alarm tells of it.
 */
export function createSupervisor(options: SupervisorOptions): Supervisor {
  const { environment, pid, clock, tell, send = sendBySystemd } = options
  const isSupervised = Boolean(environment['NOTIFY_SOCKET'])
  const periodMs = watchdogMs(environment, pid) / SHARE
  let hasFailed = false
  let stop = () => {}

  function say(state: string): void {
    if (!isSupervised) return
    send(state, (reason) => {
      if (!hasFailed) tell(`systemd could not be told "${state}": ${reason}`)
      hasFailed = true
    })
  }

  return {
    ready(progress) {
      say('READY=1')
      if (!isSupervised || !(periodMs > 0)) return
      let before = progress()
      stop = clock.every(periodMs, () => {
        const now = progress()
        const goesOn = now.evaluations > before.evaluations
        const isDeaf = now.received > before.received && now.taken === before.taken
        before = now
        if (goesOn && !isDeaf) say('WATCHDOG=1')
      })
    },
    stopping() {
      stop()
      say('STOPPING=1')
    },
  }
}

/** Zero where no signs of life are asked for, or of another process. */
function watchdogMs({ WATCHDOG_USEC, WATCHDOG_PID }: NodeJS.ProcessEnv, pid: number): number {
  const isOurs = WATCHDOG_PID === undefined || Number(WATCHDOG_PID) === pid
  return isOurs ? Number(WATCHDOG_USEC ?? 0) / 1000 : 0
}

function sendBySystemd(state: string, onFault: (reason: string) => void): void {
  execFile('systemd-notify', [state], { timeout: SEND_LIMIT_MS }, (error) => {
    if (error) onFault(error.message.split('\n')[0]!)
  })
}
