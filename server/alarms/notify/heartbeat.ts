import type { Clock } from '../../clock.ts'
import type { Broker } from '../../ingest/broker/broker.ts'
import type { HeartbeatView } from '../../wire/notifications.ts'
import { postOnce } from './channels/httpPost.ts'
import type { NotifySettings } from './settings.ts'

const ANSWER_LIMIT_MS = 10_000

export interface Heartbeat {
  view(): HeartbeatView
  stop(): void
}

export interface HeartbeatOptions {
  setting: NonNullable<NotifySettings['heartbeat']>
  clock: Clock
  broker: Pick<Broker, 'publish' | 'status'>
  answerLimitMs?: number
}

/**
 * A sign of life at a fixed period, for a watcher elsewhere that raises the alarm when it stays away: no server can
 * report its own death. What it says beside that is whether readings come in.
 */
export function startHeartbeat({ setting, clock, broker, answerLimitMs }: HeartbeatOptions): Heartbeat {
  const counts = { sent: 0, failures: 0 }
  let lastAt: number | null = null
  let lastFailure: string | null = null
  let isUnderWay = false

  async function beat(): Promise<void> {
    // The one before has not come back yet: it will be counted as failed, and no heap of them builds up.
    if (isUnderWay) return
    isUnderWay = true
    const fault = await send(clock.now())
    isUnderWay = false
    if (fault === undefined) {
      counts.sent++
      lastAt = clock.now()
    } else counts.failures++
    lastFailure = fault ?? null
  }

  async function send(now: number): Promise<string | undefined> {
    const { connected } = broker.status()
    const body = JSON.stringify({ at: now, periodMs: setting.period, readingsConnected: connected })
    if ('topic' in setting) {
      if (!connected) return 'the broker is not connected'
      broker.publish(setting.topic, body)
      return undefined
    }
    const headers = { 'content-type': 'application/json' }
    const result = await postOnce(setting.url, {
      headers,
      body,
      limitMs: answerLimitMs ?? ANSWER_LIMIT_MS,
      now,
    })
    return result.status === 'sent' ? undefined : result.reason
  }

  void beat()
  const stop = clock.every(setting.period, () => void beat())
  const to = 'topic' in setting ? setting.topic : new URL(setting.url).origin
  return { view: () => ({ to, periodMs: setting.period, ...counts, lastAt, lastFailure }), stop }
}
