import { isIP } from 'node:net'

/** True for addresses and the name of this machine itself; "127.example" is a name like any other. */
export function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || (isIP(host) === 4 && host.startsWith('127.'))
}

/** "127.0.0.1" of "127.0.0.1:8080", "::1" of "[::1]:8080": the name in a Host header. */
export function hostName(header: string | undefined): string {
  return (header ?? '')
    .replace(/:\d+$/, '')
    .replace(/^\[|\]$/g, '')
    .toLowerCase()
}

/** What limits count addresses by: whoever has one IPv6 address mostly has its whole /64. */
export function networkOf(address: string): string {
  if (!address.includes(':')) return address
  const [front = '', back] = address.split('::')
  const parts = front.split(':').filter((part) => part !== '')
  const backParts = back === undefined ? [] : back.split(':').filter((part) => part !== '')
  const zeros = back === undefined ? 0 : Math.max(0, 8 - parts.length - backParts.length)
  return [...parts, ...Array(zeros).fill('0'), ...backParts].slice(0, 4).join(':')
}
