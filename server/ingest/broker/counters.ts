import type { BrokerCounters } from './broker.ts'

export function createBrokerCounters(): BrokerCounters {
  return {
    received: 0,
    receivedBytes: 0,
    oversize: 0,
    published: 0,
    publishDropped: 0,
    reconnects: 0,
    publishQueued: 0,
    publishLimit: 0,
    forwardDropped: 0,
  }
}
