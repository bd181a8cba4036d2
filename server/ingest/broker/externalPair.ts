import type { Broker } from './broker.ts'
import { createExternalBroker, type ExternalBrokerOptions } from './external.ts'

/**
 * An external broker over two connections: readings come in on one, our own messages go out on the other. On one
 * connection the two wait for each other (the broker's small packets for our delayed acknowledgements and the other
 * way round), which held an over-speed reading back by up to 40 ms.
 */
export function createExternalPair({ presenceTopic, ...options }: ExternalBrokerOptions): Broker {
  const reading = createExternalBroker(options)
  const writing = createExternalBroker({
    ...options,
    ...(presenceTopic === undefined ? {} : { presenceTopic }),
    clientIdPrefix: `${options.clientIdPrefix ?? 'headrace'}-out`,
  })
  return {
    ...reading,
    async start() {
      await reading.start()
      await writing.start()
    },
    publish: writing.publish,
    counters() {
      const { published, publishDropped, publishQueued, publishLimit } = writing.counters()
      return { ...reading.counters(), published, publishDropped, publishQueued, publishLimit }
    },
    async close() {
      await Promise.all([reading.close(), writing.close()])
    },
  }
}
