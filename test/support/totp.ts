import { createHmac } from 'node:crypto'

const BASE32 = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567'

/**
 * What an app shows for a key at a moment [ms UTC], written from RFC 6238 (4.2) and RFC 4226 (5.3) apart from what
 * the server uses.
 */
export function codeOfApp(key: string, at: number, digits = 6): string {
  const counter = Buffer.alloc(8)
  counter.writeBigUInt64BE(BigInt(Math.floor(at / 30_000)))
  const hash = createHmac('sha1', bytesOf(key)).update(counter).digest()
  const offset = hash.at(-1)! & 0xf
  return String((hash.readUInt32BE(offset) & 0x7fffffff) % 10 ** digits).padStart(digits, '0')
}

/** RFC 4648, 6. */
function bytesOf(key: string): Buffer {
  const bits = [...key].map((letter) => BASE32.indexOf(letter).toString(2).padStart(5, '0')).join('')
  return Buffer.from((bits.match(/.{8}/g) ?? []).map((byte) => Number.parseInt(byte, 2)))
}
