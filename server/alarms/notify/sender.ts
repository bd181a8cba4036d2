import type { Clock } from '../../clock.ts'
import type { Channel, Outgoing, SendResult } from './channels/channel.ts'
import type { Delivery, Path } from './delivery.ts'
import type { Outbox, Waiting } from './outbox.ts'

/** A channel that has not said anything after this time [ms] is not waited for. */
export const SEND_LIMIT_MS = 90_000

/** How many of a channel that is gone are given up at a time; the rest follows in the next second. */
const GONE_AT_ONCE = 100

const S = 1000
const MIN = 60 * S
const HOUR = 60 * MIN

/** Pause before each further attempt [ms]; an alarm is worth the first ones in quick succession. About a day in all. */
const PAUSES_MS = [
  5 * S,
  15 * S,
  45 * S,
  2 * MIN,
  5 * MIN,
  10 * MIN,
  20 * MIN,
  40 * MIN,
  HOUR,
  2 * HOUR,
  4 * HOUR,
  8 * HOUR,
  8 * HOUR,
]

export interface SenderOptions {
  outbox: Outbox
  channels: ReadonlyMap<string, Channel>
  clock: Clock
  /** Uniform in 0 … 1. */
  random: () => number
  /** The message as it goes out, or why it cannot. */
  write: (delivery: Delivery) => Outgoing | { fault: string }
  /** Why nothing is sent over this channel, if so. */
  disabled: (channel: string) => string | undefined
  onAccepted: (path: Path) => void
  /** @param result failed for good, or to be tried again. */
  onFault: (path: Path, result: SendResult & { reason: string }) => void
}

/** Sends what is due. Each channel has lanes of its own: one that stalls holds up no other. */
export interface Sender {
  /** Call when something was put into the outbox, and once a second for what becomes due. */
  wake(): void
  counts(channel: string): { sent: number; failed: number; retries: number }
  /** Sends nothing new; resolves when what is under way is over, or after `limitMs`. */
  stop(limitMs: number): Promise<void>
}

export function createSender(options: SenderOptions): Sender {
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
      giveUp(id, gone!)
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

  /** One of each lane comes at a time: what is behind it follows. */
  function giveUp(id: string, reason: string): void {
    for (let left = GONE_AT_ONCE; left > 0; ) {
      const heads = outbox.due(id, left)
      if (heads.length === 0) return
      for (const one of heads) conclude(one, { status: 'failed', reason })
      left -= heads.length
    }
  }

  async function attempt(channel: Channel, one: Waiting): Promise<void> {
    const message = options.write(one)
    const result: SendResult =
      'fault' in message ? { status: 'failed', reason: message.fault } : await sendWithin(channel, message)
    conclude(one, result)
  }

  function sendWithin(channel: Channel, message: Outgoing): Promise<SendResult> {
    return new Promise((resolve) => {
      const giveUp = clock.after(SEND_LIMIT_MS, () =>
        resolve({ status: 'retry', reason: `nothing was heard for ${SEND_LIMIT_MS / 1000} s` }),
      )
      const fault = (error: unknown): SendResult => ({
        status: 'retry',
        reason: `this attempt broke off: ${error instanceof Error ? error.message : error}`,
      })
      new Promise<SendResult>((started) => started(channel.send(message))).catch(fault).then((result) => {
        giveUp()
        resolve(result)
      })
    })
  }

  function conclude(one: Waiting, result: SendResult): void {
    const count = counts.get(one.channel) ?? { sent: 0, failed: 0, retries: 0 }
    counts.set(one.channel, count)
    if (result.status === 'sent') {
      count.sent++
      outbox.sent(one.id)
      options.onAccepted(one)
      return
    }
    const asked = result.status === 'retry' ? result.afterMs : undefined
    const pause = result.status === 'retry' ? pauseAfter(one.attempts + 1, options.random, asked) : undefined
    if (pause === undefined) {
      count.failed++
      outbox.failed(one.id, result.reason)
      options.onFault(one, { ...result, status: 'failed' })
    } else {
      count.retries++
      outbox.retryIn(one.id, { ms: pause, isAsked: asked !== undefined }, result.reason)
      options.onFault(one, result)
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

/**
 * Pause [ms] before the next attempt: the schedule, 20 % more or less by chance so that not everything returns at
 * once, and never less than the other side asked for. Undefined: given up.
 *
 * @param attempts How often it was tried, from 1.
 * @param random Uniform in 0 … 1.
 */
function pauseAfter(attempts: number, random: () => number, askedMs = 0): number | undefined {
  const pause = PAUSES_MS[attempts - 1]
  return pause === undefined ? undefined : Math.max(askedMs, pause * (0.8 + 0.4 * random()))
}
