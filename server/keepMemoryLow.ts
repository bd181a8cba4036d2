import { setFlagsFromString } from 'node:v8'
import mqttPacket from 'mqtt-packet'

/** Growth of the heap [%] over what lives after a collection, before the next one. */
const HEAP_GROWTH_PERCENT = 25

/**
 * Half of the resident memory was garbage and tables: V8 lets a heap that serves for weeks grow to several times what
 * lives in it, and the MQTT codec keeps a buffer for each of 65,536 numbers. Call before the first connection.
 */
export function keepMemoryLow(): void {
  setFlagsFromString(`--heap-growing-percent=${HEAP_GROWTH_PERCENT}`)
  mqttPacket.writeToStream.cacheNumbers = false
}
