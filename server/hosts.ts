import { BlockList, isIP } from 'node:net'

/** True for addresses and the name of this machine itself; "127.example" is a name like any other. */
export function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || (isIP(host) === 4 && host.startsWith('127.'))
}

/** What is not reached over the internet (IANA special-purpose address registries, RFC 6890). */
const SPECIAL = new BlockList()
for (const [network, bits] of [
  ['0.0.0.0', 8],
  ['10.0.0.0', 8],
  ['100.64.0.0', 10],
  ['127.0.0.0', 8],
  ['169.254.0.0', 16],
  ['172.16.0.0', 12],
  ['192.0.0.0', 24],
  ['192.0.2.0', 24],
  ['192.88.99.0', 24],
  ['192.168.0.0', 16],
  ['198.18.0.0', 15],
  ['198.51.100.0', 24],
  ['203.0.113.0', 24],
  ['224.0.0.0', 3],
] as const)
  SPECIAL.addSubnet(network, bits, 'ipv4')
// Tunnels lead to addresses inside them, which may be anything.
for (const [network, bits] of [
  ['2001::', 23],
  ['2001:db8::', 32],
  ['2002::', 16],
  ['3fff::', 20],
] as const)
  SPECIAL.addSubnet(network, bits, 'ipv6')

const GLOBAL_UNICAST = new BlockList()
GLOBAL_UNICAST.addSubnet('2000::', 3, 'ipv6')

/** True for an IP address of the internet: not of this machine, a private network, a link, a group or a tunnel. */
export function isPublicAddress(address: string): boolean {
  const family = isIP(address)
  if (family === 4) return !SPECIAL.check(address, 'ipv4')
  return family === 6 && GLOBAL_UNICAST.check(address, 'ipv6') && !SPECIAL.check(address, 'ipv6')
}

/** True for a public address, and for a name that may lead to one: where it does lead is checked when it is used. */
export function mayBePublic(host: string): boolean {
  const bare = host.replace(/^\[|\]$/g, '')
  if (isIP(bare) !== 0) return isPublicAddress(bare)
  return bare.includes('.') && !/\.(local|localhost|internal|home\.arpa)\.?$/.test(bare)
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
  const [, inside] = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address) ?? []
  if (inside !== undefined) return inside
  if (!address.includes(':')) return address
  const [front = '', back] = address.split('::')
  const parts = front.split(':').filter((part) => part !== '')
  const backParts = back === undefined ? [] : back.split(':').filter((part) => part !== '')
  const zeros = back === undefined ? 0 : Math.max(0, 8 - parts.length - backParts.length)
  return [...parts, ...Array(zeros).fill('0'), ...backParts].slice(0, 4).join(':')
}
