import { isIP } from 'node:net'
import { StartRefused } from './state/openState.ts'

/** What is made of the text of an option. All throw a StartRefused that says what was expected. */

export function list(value: unknown): string[] {
  if (Array.isArray(value)) return value.map(String)
  return typeof value === 'string' && value !== '' ? value.split(',').map((one) => one.trim()) : []
}

export function yes(value: unknown, flag: string): boolean {
  const text = String(value)
  if (['true', 'on', 'yes', '1'].includes(text)) return true
  if (['false', 'off', 'no', '0', ''].includes(text)) return false
  return refuse(flag, text, 'on or off')
}

export function whole(low: number, high: number) {
  return (value: unknown, flag: string): number => {
    const text = String(value)
    const number = Number(text)
    if (text !== '' && Number.isInteger(number) && number >= low && number <= high) return number
    return refuse(flag, text, `a whole number from ${low} to ${high}`)
  }
}

export function oneOf<const Word extends string>(words: readonly Word[]) {
  return (value: unknown, flag: string): Word =>
    words.find((word) => word === String(value)) ?? refuse(flag, String(value), words.join(' or '))
}

export function orNull(value: unknown): string | null {
  return String(value) || null
}

export function lowerCase(value: unknown): string | null {
  return String(value).toLowerCase() || null
}

export function address(value: unknown, flag: string): string {
  const text = String(value)
  return text === 'localhost' || isIP(text) !== 0 ? text : refuse(flag, text, 'an IP address or localhost')
}

export function brokerUrl(value: unknown, flag: string): string | null {
  const text = String(value)
  if (text === '') return null
  const url = URL.canParse(text) ? new URL(text) : null
  if (url && (url.protocol === 'mqtt:' || url.protocol === 'mqtts:') && url.hostname !== '') return text
  return refuse(flag, text.replace(/\/\/[^@]*@/, '//…@'), 'mqtt://HOST:PORT or mqtts://HOST:PORT')
}

/** Without a slash at the end. */
export function pageUrl(value: unknown, flag: string): string | null {
  const text = String(value)
  if (text === '') return null
  const url = URL.canParse(text) ? new URL(text) : null
  const isBare = url?.search === '' && url.hash === '' && url.username === ''
  if (url && isBare && /^https?:$/.test(url.protocol)) return text.replace(/\/+$/, '')
  return refuse(flag, text, 'an address such as https://plant.example')
}

function refuse(flag: string, received: string, expected: string): never {
  throw new StartRefused(`Option --${flag} is "${received}", expected ${expected}.`)
}
