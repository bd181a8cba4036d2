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
