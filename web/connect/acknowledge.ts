import { signal } from '@preact/signals'
import type { AlarmView, EpisodeView } from '../../server/wire/alarm.ts'
import { mergeAlarms, type PlantHold } from '../hold/plantHold.ts'
import { type Answer, http } from './http.ts'
import { retryDelay } from './linkStatus.ts'

/** Attempts before the person is asked to press again: about two minutes. */
const MOST_ATTEMPTS = 18

export type AlarmRequest = 'acknowledge' | 'reset' | 'shelve' | 'unshelve' | 'outOfService' | 'putBack'

/** What goes with a request: a reason, for how long, who asks for it. */
export interface AlarmWish {
  note?: string
  minutes?: number
  name?: string
}

/** sending · waiting: no connection, will be sent again · failed: refused or given up, with the reason. */
export type RequestState = { step: 'sending' | 'waiting' } | { step: 'failed'; error: string }

/**
 * Sends what people do with alarms, again and again while there is no connection: the server takes the same
 * one twice without harm. At most one per alarm or event is under way, so that the list cannot grow.
 */
export function createAlarmRequests(hold: PlantHold, sleep = wait) {
  const states = signal<ReadonlyMap<string, RequestState>>(new Map())
  let isClosed = false

  function set(alarm: string, state: RequestState | null): void {
    const next = new Map(states.value)
    if (state) next.set(alarm, state)
    else next.delete(alarm)
    states.value = next
  }

  /** Sends the same again and again while there is no connection. */
  async function attempt<T>(
    key: string,
    ask: () => Promise<Answer<T>>,
    take: (reply: T) => void,
  ): Promise<void> {
    const step = states.value.get(key)?.step
    if (step === 'sending' || step === 'waiting') return
    let answer: Answer<T> | null = null
    for (let attempt = 0; attempt < MOST_ATTEMPTS && !isClosed; attempt++) {
      set(key, { step: attempt === 0 ? 'sending' : 'waiting' })
      answer = await ask()
      if (answer.ok || answer.reached) break
      set(key, { step: 'waiting' })
      await sleep(retryDelay(attempt))
    }
    if (answer?.ok) {
      take(answer.reply)
      set(key, null)
    } else set(key, { step: 'failed', error: answer?.error ?? 'Not sent.' })
  }

  const merge = (views: AlarmView[]) => {
    hold.alarms.value = mergeAlarms(hold.alarms.value, views)
  }

  function send(alarm: string, request: AlarmRequest, wish: AlarmWish = {}): Promise<void> {
    const ask = () => http.alarm(hold.view.id, { alarm, action: request }, wish)
    return attempt(alarm, ask, (view) => merge([view]))
  }

  /** All alarms of an event that the person has been shown. */
  function sendAll({ id, raisedAt }: Pick<EpisodeView, 'id' | 'raisedAt'>): Promise<void> {
    return attempt(id, () => http.episode(hold.view.id, id, raisedAt), merge)
  }

  return {
    states,
    send,
    sendAll,
    /** Sends nothing any more: the person has left the plant and no longer sees what becomes of it. */
    close(): void {
      isClosed = true
    },
  }
}

export type AlarmRequests = ReturnType<typeof createAlarmRequests>

function wait(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms))
}
