import webpush from 'web-push'
import type { NotifyMemory } from './notifyMemory.ts'

/** A browser that is to show messages, as its push service describes it (RFC 8030, RFC 8291). */
export interface Subscription {
  endpoint: string
  keys: { p256dh: string; auth: string }
}

/** Browsers by recipient; the oldest goes when somebody has more than ten. */
export interface SubscriptionStore {
  of(recipient: string): Subscription[]
  add(recipient: string, subscription: Subscription): void
  remove(recipient: string, endpoint: string): void
  /** Public and private key by which push services know this server (RFC 8292); made when first asked for. */
  serverKeys(): { publicKey: string; privateKey: string }
}

const MOST_BROWSERS = 10

export function createSubscriptions(memory: NotifyMemory): SubscriptionStore {
  const keyOf = (recipient: string) => `push:${recipient}`
  const of = (recipient: string) => memory.get<Subscription[]>(keyOf(recipient)) ?? []
  const others = (recipient: string, endpoint: string) =>
    of(recipient).filter((one) => one.endpoint !== endpoint)
  return {
    of,
    add: (recipient, subscription) =>
      memory.set(
        keyOf(recipient),
        [...others(recipient, subscription.endpoint), subscription].slice(-MOST_BROWSERS),
      ),
    remove: (recipient, endpoint) => memory.set(keyOf(recipient), others(recipient, endpoint)),
    serverKeys() {
      const known = memory.get<{ publicKey: string; privateKey: string }>('pushKeys')
      if (known) return known
      const made = webpush.generateVAPIDKeys()
      memory.set('pushKeys', made)
      return made
    },
  }
}
