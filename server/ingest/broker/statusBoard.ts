import type { Clock } from '../../clock.ts'
import { createListeners } from '../../listeners.ts'
import type { BrokerStatus } from './broker.ts'

/** The present status of a broker and those who want to hear of changes. */
export interface StatusBoard {
  get(): BrokerStatus
  /** Tells the listeners only when something is different from before. */
  set(connected: boolean, detail?: string): void
  onChange(listener: (status: BrokerStatus) => void): () => void
}

/** @param name for people, never with credentials; a function because the embedded broker's port is known late. */
export function createStatusBoard(clock: Clock, name: () => string): StatusBoard {
  const listeners = createListeners<BrokerStatus>()
  let connected = false
  let since: number | null = null
  let detail: string | undefined
  const get = (): BrokerStatus => ({
    connected,
    name: name(),
    since,
    ...(detail === undefined ? {} : { detail }),
  })
  return {
    get,
    set(nowConnected, nowDetail) {
      const isChange = nowConnected !== connected
      if (!isChange && nowDetail === detail) return
      if (isChange) since = clock.now()
      connected = nowConnected
      detail = nowDetail
      listeners.call(get())
    },
    onChange: listeners.add,
  }
}
