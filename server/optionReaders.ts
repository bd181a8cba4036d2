import { isIP } from 'node:net'
import { StartRefused } from './state/openState.ts'

/** Readers of single options: text in, value out, or a refusal that says what was expected. */

export function list(value: unknown): string[] {
  if (Array.isArray(value)) return value.map(String)
  return typeof value === 'string' && value !== '' ? value.split(',').map((one) => one.trim()) : []
}

export function yes(flag: string, text: string): boolean {
  if (['true', 'on', 'yes', '1'].includes(text)) return true
  if (['false', 'off', 'no', '0', ''].includes(text)) return false
  return refuse(flag, text, 'on or off')
}

export function whole(flag: string, text: string, [low, high]: [number, number]): number {
  const value = Number(text)
  if (text !== '' && Number.isInteger(value) && value >= low && value <= high) return value
  return refuse(flag, text, `a whole number from ${low} to ${high}`)
}

export function address(flag: string, text: string): string {
  return text === 'localhost' || isIP(text) !== 0 ? text : refuse(flag, text, 'an IP address or localhost')
}

export function brokerUrl(text: string): string | null {
  if (text === '') return null
  const url = URL.canParse(text) ? new URL(text) : null
  if (url && (url.protocol === 'mqtt:' || url.protocol === 'mqtts:') && url.hostname !== '') return text
  return refuse('mqtt-url', text.replace(/\/\/[^@]*@/, '//…@'), 'mqtt://HOST:PORT or mqtts://HOST:PORT')
}

/** Without a slash at the end. */
export function pageUrl(text: string): string | null {
  if (text === '') return null
  const url = URL.canParse(text) ? new URL(text) : null
  const isBare = url?.search === '' && url.hash === '' && url.username === ''
  if (url && isBare && /^https?:$/.test(url.protocol)) return text.replace(/\/+$/, '')
  return refuse('public-url', text, 'an address such as https://plant.example')
}

function refuse(flag: string, received: string, expected: string): never {
  throw new StartRefused(`Option --${flag} is "${received}", expected ${expected}.`)
}
