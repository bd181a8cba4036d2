import type { Clock } from '../../clock.ts'
import { pauseAfter } from './backoff.ts'
import type { Channel, Outcome, Outgoing } from './channels/channel.ts'
import type { Delivery, Path } from './delivery.ts'
import type { Outbox, Waiting } from './outbox.ts'

/** A channel that has not said anything after this time [ms] is not waited for. */
export const SEND_LIMIT_MS = 90_000

/** How many of a channel that is gone are given up at a time; the rest follows in the next second. */
const GONE_AT_ONCE = 100

export interface WorkerOptions {
  outbox: Outbox
  channels: ReadonlyMap<string, Channel>
  clock: Clock
  /** Uniform in 0 … 1. */
  random: () => number
  /** The message as it goes out, or why it cannot. */
  compose: (delivery: Delivery) => Outgoing | { fault: string }
  /** Why nothing is sent over this channel, if so. */
  disabled: (channel: string) => string | undefined
  onAccepted: (path: Path) => void
  /** @param outcome failed for good, or to be tried again. */
  onFault: (path: Path, outcome: Outcome & { reason: string }) => void
}

/** Sends what is due. Each channel has lanes of its own: one that stalls holds up no other. */
export interface Worker {
  /** Call when something was put into the outbox, and once a second for what becomes due. */
  wake(): void
  counts(channel: string): { sent: number; failed: number; retries: number }
  /** Sends nothing new; resolves when what is under way is over, or after `limitMs`. */
  stop(limitMs: number): Promise<void>
}

export function createWorker(options: WorkerOptions): Worker {
  const { outbox, channels, clock } = options
  const underWay = new Map<string, Set<Promise<void>>>()
  const counts = new Map<string, { sent: number; failed: number; retries: number }>()
  let cancel = () => {}
  let isStopped = false

  function pump(): void {
    if (isStopped) return
    for (const id of outbox.channels()) pumpChannel(id)
  }

  function pumpChannel(id: string): void {
    const channel = channels.get(id)
    const gone = channel ? options.disabled(id) : 'this channel is no longer in the notification file'
    if (!channel || gone !== undefined) {
      for (const one of outbox.due(id, GONE_AT_ONCE)) conclude(one, { result: 'failed', reason: gone! })
      return
    }
    const busy = underWay.get(id) ?? new Set()
    underWay.set(id, busy)
    for (const one of outbox.due(id, channel.lanes - busy.size)) {
      one.isSending = true
      const sending = attempt(channel, one).finally(() => {
        busy.delete(sending)
        // By way of the event loop: thousands that fail at once must not hold up the readings.
        setImmediate(() => isStopped || pumpChannel(id))
      })
      busy.add(sending)
    }
  }

  async function attempt(channel: Channel, one: Waiting): Promise<void> {
    const message = options.compose(one)
    const outcome: Outcome =
      'fault' in message ? { result: 'failed', reason: message.fault } : await sendWithin(channel, message)
    conclude(one, outcome)
  }

  function sendWithin(channel: Channel, message: Outgoing): Promise<Outcome> {
    return new Promise((resolve) => {
      const giveUp = clock.after(SEND_LIMIT_MS, () =>
        resolve({ result: 'retry', reason: `nothing was heard for ${SEND_LIMIT_MS / 1000} s` }),
      )
      const fault = (error: unknown): Outcome => ({
        result: 'retry',
        reason: `this attempt broke off: ${error instanceof Error ? error.message : error}`,
      })
      new Promise<Outcome>((started) => started(channel.send(message))).catch(fault).then((outcome) => {
        giveUp()
        resolve(outcome)
      })
    })
  }

  function conclude(one: Waiting, outcome: Outcome): void {
    const count = counts.get(one.channel) ?? { sent: 0, failed: 0, retries: 0 }
    counts.set(one.channel, count)
    if (outcome.result === 'sent') {
      count.sent++
      outbox.sent(one.id)
      options.onAccepted(one)
      return
    }
    const asked = outcome.result === 'retry' ? outcome.afterMs : undefined
    const pause = outcome.result === 'retry' ? pauseAfter(one.attempts + 1, options.random, asked) : undefined
    if (pause === undefined) {
      count.failed++
      outbox.failed(one.id, outcome.reason)
      options.onFault(one, { ...outcome, result: 'failed' })
    } else {
      count.retries++
      outbox.retryIn(one.id, pause, outcome.reason)
      options.onFault(one, outcome)
    }
  }

  return {
    wake() {
      cancel()
      // Not within the transaction that brought it: a channel must never hold up the alarms.
      if (!isStopped) cancel = clock.after(0, pump)
    },
    counts: (channel) => counts.get(channel) ?? { sent: 0, failed: 0, retries: 0 },
    async stop(limitMs) {
      isStopped = true
      cancel()
      const open = [...underWay.values()].flatMap((busy) => [...busy])
      await Promise.race([Promise.all(open), new Promise<void>((resolve) => clock.after(limitMs, resolve))])
    },
  }
}
