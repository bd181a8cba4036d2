import { connect, type Socket } from 'node:net'

/**
 * MQTT 3.1.1 packets made beforehand and written straight to a socket: a publisher that costs so little that
 * the two cores are left to the broker and to what is measured.
 */
export function publishPacket(topic: string, payload: string): Buffer {
  const name = Buffer.from(topic)
  const body = Buffer.concat([
    Buffer.from([name.length >> 8, name.length & 0xff]),
    name,
    Buffer.from(payload),
  ])
  // § 3.3.1: type 3, QoS 0; § 2.2.3: remaining length
  return Buffer.concat([Buffer.from([0x30, ...remainingLength(body.length)]), body])
}

/** One SUBSCRIBE with all these filters, QoS 0. */
export function subscribePacket(filters: readonly string[]): Buffer {
  const body = Buffer.concat([
    Buffer.from([0, 1]),
    ...filters.map((filter) =>
      Buffer.concat([
        Buffer.from([filter.length >> 8, filter.length & 0xff]),
        Buffer.from(filter),
        Buffer.from([0]),
      ]),
    ),
  ])
  // § 3.8.1: type 8, reserved flags 2
  return Buffer.concat([Buffer.from([0x82, ...remainingLength(body.length)]), body])
}

/** Connects as `clientId` (clean session, no keep-alive) and resolves when the broker has accepted. */
export function connectRaw(port: number, clientId: string): Promise<Socket> {
  const id = Buffer.from(clientId)
  // § 3.1.2: protocol name "MQTT", level 4, flags: clean session, keep-alive 0
  const header = Buffer.from([0, 4, 0x4d, 0x51, 0x54, 0x54, 4, 2, 0, 0, id.length >> 8, id.length & 0xff])
  const packet = Buffer.concat([
    Buffer.from([0x10, ...remainingLength(header.length + id.length)]),
    header,
    id,
  ])
  return new Promise((resolve, reject) => {
    const socket = connect(port, '127.0.0.1', () => socket.write(packet))
    socket.setNoDelay(true)
    socket.once('error', reject)
    // § 3.2: CONNACK, return code 0
    socket.once('data', (reply) =>
      reply[0] === 0x20 && reply[3] === 0
        ? resolve(socket)
        : reject(new Error('the broker refused the publisher')),
    )
  })
}

function remainingLength(length: number): number[] {
  const bytes: number[] = []
  let rest = length
  do {
    const byte = rest % 128
    rest = Math.floor(rest / 128)
    bytes.push(rest > 0 ? byte | 128 : byte)
  } while (rest > 0)
  return bytes
}
