import type { Socket } from 'node:net'

/** A packet that was refused for its size. */
export interface OversizePacket {
  bytes: number
  /** True where leaving the packet out breaks no promise: a PUBLISH with QoS 0, which nobody acknowledges. */
  isSkippable: boolean
  /** Known when it came with the first bytes. */
  topic?: string
}

/**
 * Cuts MQTT packets longer than `maxPacketBytes` out of a byte stream, counting as the bytes come in, so that a
 * 200 MB packet never lies in memory (an MQTT header allows 256 MB; neither library used here has a limit).
 *
 * The fixed header of each packet tells its length: one byte of type and flags, then the "remaining length" in
 * one to four bytes of seven bits, least significant first (MQTT 3.1.1 § 2.2).
 *
 * @param onPacket Called as each packet begins.
 * @returns a function from each chunk to the bytes that may pass: the very same chunk in the usual case.
 */
export function createPacketGuard(
  maxPacketBytes: number,
  onOversize: (packet: OversizePacket) => void,
  onPacket: () => void = () => {},
): (chunk: Buffer) => Buffer {
  /** Bytes of the present packet that are still to come. */
  let left = 0
  let isSkipping = false
  /** Beginning of a header whose length is not complete yet; at most 4 bytes. */
  let held: Buffer | undefined

  return (chunk) => {
    const input = held ? Buffer.concat([held, chunk]) : chunk
    held = undefined
    const passed: Buffer[] = []
    let from = 0
    let at = 0
    while (at < input.length) {
      if (left > 0) {
        const step = Math.min(left, input.length - at)
        at += step
        left -= step
        if (isSkipping) from = at
        if (left === 0) isSkipping = false
        continue
      }
      const headerBytes = headerLength(input, at)
      if (headerBytes === undefined) break
      left = remainingLength(input, at, headerBytes)
      onPacket()
      if (headerBytes + left > maxPacketBytes) {
        onOversize(describe(input.subarray(at), headerBytes + left, headerBytes))
        passed.push(input.subarray(from, at))
        isSkipping = true
        from = at + headerBytes
      }
      at += headerBytes
    }
    if (at < input.length) held = Buffer.from(input.subarray(at))
    if (passed.length === 0 && from === 0 && at === input.length) return input
    passed.push(input.subarray(from, at))
    return passed.length === 1 ? passed[0]! : Buffer.concat(passed)
  }
}

/** Puts the guard between a socket and whoever reads from it, be it by "data" or by `read()`. */
export function guardSocket(
  socket: Socket,
  guard: (chunk: Buffer) => Buffer,
  pace: Pace = { waitMs: () => 0, after: () => {} },
): void {
  const push = socket.push.bind(socket)
  const held: Buffer[] = []
  let ended = false
  const release = () => {
    const chunk = held.length === 1 ? held[0]! : Buffer.concat(held)
    held.length = 0
    if (chunk.length > 0) push(chunk)
    if (ended) push(null)
  }
  // Every byte a socket receives goes through its `push`. A stream in between would cost a copy of the work
  // per chunk on the hottest path.
  socket.push = (chunk: Buffer | null, encoding?: BufferEncoding) => {
    if (chunk === null) {
      ended = held.length > 0
      return ended ? false : push(null)
    }
    const passing = guard(chunk)
    const waitMs = pace.waitMs()
    if (waitMs > 0 && held.length === 0) pace.after(waitMs, release)
    if (waitMs > 0 || held.length > 0) {
      held.push(passing)
      // Nothing more is read from the network until what is held was taken.
      return false
    }
    return passing.length === 0 ? true : push(passing, encoding)
  }
}

/** How fast packets may come. */
export interface Pace {
  /** Time [ms] that what has come has to wait; 0 where it may pass. */
  waitMs(): number
  after(delayMs: number, task: () => void): void
}

/** Length of the fixed header [bytes]; undefined while its end has not come. A fifth length byte is left to the parser. */
function headerLength(input: Buffer, at: number): number | undefined {
  for (let size = 2; size <= 5; size++) {
    if (at + size > input.length) return undefined
    if (input[at + size - 1]! < 0x80) return size
  }
  return 5
}

function remainingLength(input: Buffer, at: number, headerBytes: number): number {
  let length = 0
  for (let i = headerBytes - 1; i >= 1; i--) length = length * 128 + (input[at + i]! & 0x7f)
  return length
}

const PUBLISH = 3

/** @param input Begins with the packet, and may end before it. */
function describe(input: Buffer, bytes: number, headerBytes: number): OversizePacket {
  const first = input[0]!
  const isPublish = first >> 4 === PUBLISH
  const topicAt = headerBytes + 2
  const topicEnd =
    topicAt <= input.length ? topicAt + input.readUInt16BE(topicAt - 2) : Number.POSITIVE_INFINITY
  return {
    bytes,
    isSkippable: isPublish && ((first >> 1) & 3) === 0,
    ...(isPublish && topicEnd <= input.length ? { topic: input.toString('utf8', topicAt, topicEnd) } : {}),
  }
}
