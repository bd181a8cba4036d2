import { randomInt } from 'node:crypto'
import type { IncomingMessage } from 'node:http'
import { networkInterfaces } from 'node:os'
import { isOverTls, isTlsPort } from '../access/visitor.ts'
import { hostName, isLoopback } from '../hosts.ts'

/** No letter that is taken for another, nor for a digit, when read from a wall: no l, no q, no w; y is no vowel here. */
const CONSONANTS = 'bdfgkmnprstv'
const VOWELS = 'aeiou'
const SYLLABLES = 4
const HALF = SYLLABLES

/**
 * A code that can be said aloud, "mora-tuke": 60⁴ = 13 million of them, for a few hours, and wrong ones make whoever
 * tries wait longer each time.
 */
export function makeLessonCode(random: (below: number) => number = randomInt): string {
  const syllable = () => CONSONANTS[random(CONSONANTS.length)]! + VOWELS[random(VOWELS.length)]!
  const letters = Array.from({ length: SYLLABLES }, syllable).join('')
  return `${letters.slice(0, HALF)}-${letters.slice(HALF)}`
}

/** A word that phones of one group say to one another: 60³ = 216,000 of them. */
export function makeGroupWord(random: (below: number) => number = randomInt): string {
  const syllable = () => CONSONANTS[random(CONSONANTS.length)]! + VOWELS[random(VOWELS.length)]!
  return syllable() + syllable() + syllable()
}

/** As people type it: capitals, spaces or nothing for the dash. */
export function readLessonCode(typed: string): string {
  const letters = typed.toLowerCase().replace(/[^a-z]/g, '')
  return `${letters.slice(0, HALF)}-${letters.slice(HALF)}`
}

export interface JoinAddresses {
  /** Likeliest first; empty when only this machine can open the page. */
  addresses: string[]
  note: string
}

/** @param listensOn Address on which the server listens; interfaces of this machine by default. */
export function joinAddresses(
  request: IncomingMessage,
  listensOn: string,
  interfaces: ReturnType<typeof networkInterfaces> = networkInterfaces(),
): JoinAddresses {
  const host = request.headers.host ?? ''
  const seen = isLoopback(hostName(host)) ? [] : [`${isOverTls(request) ? 'https' : 'http'}://${host}`]
  if (isLoopback(listensOn)) return { addresses: seen, note: seen.length > 0 ? SEEN : ONLY_HERE }
  const port = request.socket.localPort
  const own = isEverywhere(listensOn) ? outward(interfaces) : [listensOn]
  const scheme = isTlsPort(request) ? 'https' : 'http'
  const rest = own.map((address) => `${scheme}://${address.includes(':') ? `[${address}]` : address}:${port}`)
  const addresses = [...new Set([...seen, ...rest])]
  return { addresses, note: addresses.length > 0 ? SAME_NETWORK : NO_NETWORK }
}

function isEverywhere(host: string): boolean {
  return host === '0.0.0.0' || host === '::'
}

function outward(interfaces: ReturnType<typeof networkInterfaces>): string[] {
  return Object.values(interfaces).flatMap((list) =>
    (list ?? [])
      .filter(({ internal, family }) => !internal && family === 'IPv4')
      .map(({ address }) => address),
  )
}

const SEEN = 'This is the address under which this page was opened. Phones need to reach it too.'
const SAME_NETWORK = 'Phones have to be in the same network as this server.'
const NO_NETWORK = 'This machine is in no network just now: phones cannot reach it.'
const ONLY_HERE =
  'This server listens only on this machine, so no phone can join. Start it with --http-host 0.0.0.0 in a network that you trust, or put a proxy before it and give its name as --page-name.'
