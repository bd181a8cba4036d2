import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { createPacketGuard, type OversizePacket } from '../../../../server/ingest/broker/packetGuard.ts'

/** A packet by MQTT 3.1.1 § 2.2: type and flags, the length of the rest in sevens of bits, the rest. */
function packetOf(typeAndFlags: number, rest: Buffer): Buffer {
  const length: number[] = []
  let left = rest.length
  do {
    length.push((left % 128) + (left >= 128 ? 128 : 0))
    left = Math.floor(left / 128)
  } while (left > 0)
  return Buffer.concat([Buffer.from([typeAndFlags, ...length]), rest])
}

/** § 3.3: PUBLISH is 3, QoS in bits 1 and 2, a packet id only where QoS > 0. */
function publish(topic: string, bytes: number, qos: 0 | 1 = 0): Buffer {
  const head = Buffer.from([0, topic.length, ...Buffer.from(topic), ...(qos ? [0, 7] : [])])
  return packetOf(0x30 | (qos << 1), Buffer.concat([head, Buffer.alloc(bytes, 120)]))
}

const PINGREQ = packetOf(0xc0, Buffer.alloc(0))
const LONG_SUBSCRIBE = packetOf(0x82, Buffer.alloc(210, 1))

function passThrough(stream: Buffer, cuts: number[], limit: number) {
  const refused: OversizePacket[] = []
  const guard = createPacketGuard(limit, (packet) => refused.push(packet))
  const ends = [...new Set(cuts.map((cut) => cut % (stream.length + 1)))].sort((a, b) => a - b)
  const passed = [...ends, stream.length].map((end, i) =>
    guard(stream.subarray(i === 0 ? 0 : ends[i - 1], end)),
  )
  return { passed: Buffer.concat(passed), refused }
}

describe('createPacketGuard', () => {
  it('passes the very same chunk where nothing is too long', () => {
    const chunk = Buffer.concat([publish('a', 3), PINGREQ, publish('b', 100)])
    expect(createPacketGuard(200, () => {})(chunk)).toBe(chunk)
  })

  it('counts the header in: a packet of exactly the limit passes, one byte more does not', () => {
    const packet = publish('a', 200)
    expect(passThrough(packet, [], packet.length).refused).toEqual([])
    expect(passThrough(packet, [], packet.length - 1).refused).toEqual([
      { bytes: packet.length, isSkippable: true, topic: 'a' },
    ])
  })

  it('tells what waits for an acknowledgement from what does not', () => {
    expect(passThrough(publish('a', 200, 1), [], 100).refused[0]).toMatchObject({ isSkippable: false })
    expect(passThrough(LONG_SUBSCRIBE, [], 100).refused[0]).toEqual({
      bytes: LONG_SUBSCRIBE.length,
      isSkippable: false,
    })
  })

  it('lets through exactly the short packets, however the stream is cut into chunks', () => {
    const sizes = fc.array(fc.nat({ max: 400 }), { minLength: 1, maxLength: 12 })
    fc.assert(
      fc.property(sizes, fc.array(fc.nat({ max: 5000 }), { maxLength: 40 }), (bytes, cuts) => {
        const packets = bytes.map((size, i) => publish(`t${i}`, size))
        const short = packets.filter((packet) => packet.length <= 150)
        const { passed, refused } = passThrough(Buffer.concat(packets), cuts, 150)
        expect(Buffer.compare(passed, Buffer.concat(short))).toBe(0)
        expect(refused).toHaveLength(packets.length - short.length)
      }),
    )
  })

  it('never throws on rubbish', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), fc.array(fc.nat({ max: 400 })), (bytes, cuts) => {
        const { passed } = passThrough(Buffer.from(bytes), cuts, 100)
        expect(passed.length).toBeLessThanOrEqual(bytes.length)
      }),
    )
  })
})
