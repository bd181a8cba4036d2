import type { Socket } from 'node:net'

const HEAD_BYTES = 4

/** Writes `bytes` behind their length (4 bytes, the lowest first). */
export function writeFrame(socket: Socket, bytes: Uint8Array): void {
  const head = Buffer.alloc(HEAD_BYTES)
  head.writeUInt32LE(bytes.byteLength)
  socket.cork()
  socket.write(head)
  socket.write(bytes)
  socket.uncork()
}

/** Gives every whole frame; a socket that announces more than `largest` bytes is ended. */
export function readFrames(socket: Socket, largest: number, onFrame: (bytes: Buffer) => void): void {
  let parts: Buffer[] = []
  let length = 0

  /** The first so many bytes of what came; undefined while they are not all here. */
  function peek(bytes: number): Buffer | undefined {
    if (length < bytes) return undefined
    if (parts[0]!.length < bytes) parts = [Buffer.concat(parts, length)]
    return parts[0]!.subarray(0, bytes)
  }

  function drop(bytes: number): void {
    const [first, ...others] = parts
    parts = first!.length > bytes ? [first!.subarray(bytes), ...others] : others
    length -= bytes
  }

  socket.on('data', (part: Buffer) => {
    parts.push(part)
    length += part.length
    for (let head = peek(HEAD_BYTES); head; head = peek(HEAD_BYTES)) {
      const size = head.readUInt32LE()
      if (size > largest) return void socket.destroy()
      const frame = peek(HEAD_BYTES + size)
      if (!frame) return
      drop(HEAD_BYTES + size)
      onFrame(frame.subarray(HEAD_BYTES))
    }
  })
}
