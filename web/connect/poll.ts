import { type Signal, signal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { Answer } from './http.ts'

export interface Polled<T> {
  /** The last good answer, kept when a later one fails. */
  reply: Signal<T | null>
  /** Why the newest answer is missing; null when it is there. */
  error: Signal<string | null>
  /** This machine's time [ms] of the last good answer; null before the first. */
  answeredAt: Signal<number | null>
  again: () => void
}

/** Asks at once, then every `everyMs` after each answer, until the component goes. `keys` start it anew. */
export function usePolled<T>(
  ask: () => Promise<Answer<T>>,
  everyMs: number,
  keys: readonly unknown[],
): Polled<T> {
  const polled = useMemo(() => createPolled(ask, everyMs), keys)
  useEffect(() => polled.start(), [polled])
  return polled
}

function createPolled<T>(ask: () => Promise<Answer<T>>, everyMs: number) {
  const reply = signal<T | null>(null)
  const error = signal<string | null>(null)
  const answeredAt = signal<number | null>(null)
  let timer: ReturnType<typeof setTimeout> | undefined
  let isWanted = false

  async function round(): Promise<void> {
    clearTimeout(timer)
    const answer = await ask()
    if (!isWanted) return
    if (answer.ok) {
      reply.value = answer.reply
      answeredAt.value = Date.now()
    }
    error.value = answer.ok ? null : answer.error
    clearTimeout(timer)
    timer = setTimeout(round, everyMs)
  }

  return {
    reply,
    error,
    answeredAt,
    again: () => void round(),
    start() {
      isWanted = true
      void round()
      return () => {
        isWanted = false
        clearTimeout(timer)
      }
    },
  }
}
