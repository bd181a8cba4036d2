const LONGEST_EXAMPLE = 200

/** The payload as UTF-8 text; bytes that are none become U+FFFD. */
export function textOf(payload: Uint8Array): string {
  return bufferOf(payload).toString('utf8')
}

/** A payload or text as it can be shown: at most 200 characters, "·" in place of what cannot be printed. */
export function exampleOf(payload: Uint8Array | string, longest = LONGEST_EXAMPLE): string {
  // a UTF-8 character has at most 4 bytes
  const text = typeof payload === 'string' ? payload : textOf(payload.subarray(0, 4 * longest))
  const shown = text.slice(0, longest).replace(/[\p{C}\u2028\u2029\ufffd]/gu, '·')
  return text.length > longest || (typeof payload !== 'string' && payload.length > 4 * longest)
    ? `${shown}…`
    : shown
}

/** How a value looks in a fault: '"12,4" (text)', '17', 'an object'. */
export function shownValue(value: unknown): string {
  if (typeof value === 'string') return `"${exampleOf(value, 60)}" (text)`
  if (Array.isArray(value)) return 'a list'
  if (value === null) return 'null'
  return typeof value === 'object' ? 'an object' : String(value)
}

export function bufferOf(payload: Uint8Array): Buffer {
  return Buffer.isBuffer(payload)
    ? payload
    : Buffer.from(payload.buffer, payload.byteOffset, payload.byteLength)
}
