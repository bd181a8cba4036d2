import { closeSync, fdatasyncSync, fstatSync, openSync, readSync, writeSync } from 'node:fs'
import { join } from 'node:path'

const FILE = 'ended-sessions'
/** A hash of 256 bits in base64url takes 43. */
const SLOT = 64
const SLOTS = 255
const SIZE = SLOT * (SLOTS + 1)
/** In the first slot: more than there is room for have ended, so none of before goes on. */
const ALL = 'all'

/**
 * Sessions that have ended while the disk refused to forget them. The file is as large as it ever gets from the start on,
 * so that a full disk can still be written in its place; where even that is refused, nothing can be kept.
 */
export interface EndedFile {
  /** @returns whether it is on the disk. */
  add(key: string): boolean
  /** Whether the session ended before this start. */
  has(key: string): boolean
  /** Nothing waits any more. */
  clear(): void
  close(): void
}

export function createEndedFile(folder: string): EndedFile {
  const content = Buffer.alloc(SIZE)
  const file = openSync(join(folder, FILE), 'a+', 0o600)
  closeSync(file)
  const descriptor = openSync(join(folder, FILE), 'r+')
  if (fstatSync(descriptor).size < SIZE) put(content, 0)
  else readSync(descriptor, content, 0, SIZE, 0)
  const before = new Set(slotsIn(content))
  let used = before.size

  function put(bytes: Buffer, at: number): boolean {
    try {
      writeSync(descriptor, bytes, 0, bytes.length, at)
      fdatasyncSync(descriptor)
      return true
    } catch {
      return false
    }
  }

  return {
    add(key) {
      const isFull = used >= SLOTS
      const isKept = put(slotOf(isFull ? ALL : key), isFull ? 0 : SLOT * (used + 1))
      if (isKept && !isFull) used++
      return isKept
    },
    has: (key) => before.has(ALL) || before.has(key),
    clear() {
      if (used > 0 && put(Buffer.alloc(SIZE), 0)) used = 0
    },
    close: () => closeSync(descriptor),
  }
}

function slotOf(text: string): Buffer {
  const slot = Buffer.alloc(SLOT)
  slot.write(text, 'latin1')
  return slot
}

function slotsIn(content: Buffer): string[] {
  return Array.from({ length: SLOTS + 1 }, (_, i) =>
    content.toString('latin1', SLOT * i, SLOT * (i + 1)).replace(/\0+$/, ''),
  ).filter((text) => text !== '')
}
