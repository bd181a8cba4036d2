import type { Socket } from 'node:net'

const HEAD_BYTES = 4

/** Writes the parts as one frame, behind their length (4 bytes, the lowest first). Resolves when they were taken, or cannot be any more. */
export function writeFrame(socket: Socket, parts: readonly Uint8Array[]): Promise<void> {
  const head = Buffer.alloc(HEAD_BYTES)
  head.writeUInt32LE(parts.reduce((sum, part) => sum + part.byteLength, 0))
  return new Promise((resolve) => {
    socket.cork()
    socket.write(head)
    for (const part of parts) socket.write(part)
    // Written after them, so it is taken after them.
    socket.write('', () => resolve())
    socket.uncork()
  })
}

/** Gives every whole frame, each in memory of its own; a socket that announces more than `largest` bytes is ended. */
export function readFrames(socket: Socket, largest: number, onFrame: (bytes: Buffer) => void): void {
  let part = Buffer.allocUnsafeSlow(HEAD_BYTES)
  let filled = 0
  let isHead = true

  function next(size: number): void {
    part = Buffer.allocUnsafeSlow(size)
    filled = 0
    isHead = !isHead
  }

  function conclude(): void {
    if (!isHead) {
      const frame = part
      next(HEAD_BYTES)
      onFrame(frame)
      return
    }
    const size = part.readUInt32LE()
    if (size > largest) socket.destroy()
    else next(size)
  }

  socket.on('data', (data: Buffer) => {
    let used = 0
    while (!socket.destroyed && (used < data.length || filled === part.length)) {
      const taken = data.copy(part, filled, used)
      used += taken
      filled += taken
      if (filled === part.length) conclude()
    }
  })
}
