import { signal } from '@preact/signals'
import type { ComponentType } from 'preact'
import { retryDelay } from '../../connect/linkStatus.ts'

/** A part of the page that is fetched when it is first shown, again and again until it comes. */
export function lazily<Props extends object>(
  load: () => Promise<ComponentType<Props>>,
): ComponentType<Props> {
  const loaded = signal<{ part: ComponentType<Props> } | null>(null)
  let isAsked = false

  async function fetchPart(attempt: number): Promise<void> {
    try {
      loaded.value = { part: await load() }
    } catch {
      // The connection may be down just now; an empty place is filled later.
      setTimeout(() => fetchPart(attempt + 1), retryDelay(attempt))
    }
  }

  return function Lazy(props: Props) {
    if (!isAsked) {
      isAsked = true
      void fetchPart(0)
    }
    const Part = loaded.value?.part
    return Part ? <Part {...props} /> : null
  }
}
