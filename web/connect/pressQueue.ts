import { type Signal, signal } from '@preact/signals'
import type { RecordRequest } from '../../server/wire/lesson.ts'
import type { Answer } from './http.ts'

/** A press of "Record" that the server has not confirmed. */
export interface Press {
  key: string
  /** This phone's clock [ms]. */
  pressedAt: number
  remark: string
  /** Why the server would not have it; null while it is to be sent. */
  refused: string | null
}

export interface PressQueue {
  /** Oldest first. */
  waiting: Signal<readonly Press[]>
  /** Null, or why it was not even taken. */
  press(remark: string): Promise<string | null>
  /** Sends what waits; harmless when nothing does. */
  send(): Promise<void>
  dismiss(key: string): void
}

export interface PressQueueOptions {
  /** Survives a reload of the page: the browser's storage. */
  load: () => string | null
  save: (text: string) => void
  ask: (wish: RecordRequest) => Promise<Answer<{ number: number }>>
  onStored: (number: number) => void
  now?: () => number
  newKey?: () => string
}

/** Presses that a phone keeps at most; one more is refused with a sentence. */
export const MOST_PRESSES = 50
const FULL = `Not taken: ${MOST_PRESSES} presses wait already. Send or dismiss them first.`

/**
 * Keeps presses until the server has stored them, in order. A press is kept before it is sent, and its key makes
 * sending it twice harmless, so neither a dead network nor a reload loses or doubles a row.
 */
export function createPressQueue(options: PressQueueOptions): PressQueue {
  const { load, save, ask, onStored, now = Date.now, newKey = randomKey } = options
  const waiting = signal<readonly Press[]>(read(load()))
  let isSending = false

  function keep(next: readonly Press[]): void {
    waiting.value = next
    save(JSON.stringify(next))
  }

  /** False when the network is down: what comes after would fare no better. */
  async function sendOne({ key, pressedAt, remark }: Press): Promise<boolean> {
    const answer = await ask({ key, ageMs: Math.max(0, now() - pressedAt), ...(remark ? { remark } : {}) })
    if (!answer.ok && !answer.reached) return false
    if (answer.ok) {
      keep(waiting.value.filter((one) => one.key !== key))
      onStored(answer.reply.number)
    } else keep(waiting.value.map((one) => (one.key === key ? { ...one, refused: answer.error } : one)))
    return true
  }

  async function send(): Promise<void> {
    if (isSending) return
    isSending = true
    try {
      for (;;) {
        const next = waiting.value.find(({ refused }) => refused === null)
        if (!next || !(await sendOne(next))) return
      }
    } finally {
      isSending = false
    }
  }

  return {
    waiting,
    send,
    press(remark) {
      const press = { key: newKey(), pressedAt: now(), remark, refused: null }
      if (waiting.value.length >= MOST_PRESSES) return Promise.resolve(FULL)
      keep([...waiting.value, press])
      return send().then(() => null)
    },
    dismiss(key) {
      keep(waiting.value.filter((one) => one.key !== key))
    },
  }
}

function read(text: string | null): Press[] {
  try {
    const list: unknown = JSON.parse(text ?? '[]')
    return Array.isArray(list) ? (list as Press[]).filter((one) => typeof one?.key === 'string') : []
  } catch {
    return []
  }
}

/** Also where the page is not served over HTTPS, so that there is no randomUUID. */
function randomKey(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) =>
    byte.toString(16).padStart(2, '0'),
  ).join('')
}
