import { describe, expect, it } from 'vitest'
import { isPublicAddress, mayBePublic, networkOf } from '../../server/hosts.ts'

// Source of the networks: IANA IPv4 and IPv6 special-purpose address registries (RFC 6890), from memory.
describe('an address of the internet', () => {
  it.each(['8.8.8.8', '172.32.0.1', '100.128.0.1', '198.20.0.1', '2600::1', '2a00:1450::1'])(
    'is %s',
    (address) => {
      expect(isPublicAddress(address)).toBe(true)
    },
  )

  it.each([
    ['this machine', '127.0.0.1'],
    ['this machine', '::1'],
    ['this machine, mapped', '::ffff:127.0.0.1'],
    ['this network', '0.0.0.0'],
    ['private', '10.1.2.3'],
    ['private', '172.31.255.255'],
    ['private', '192.168.1.1'],
    ['behind the provider', '100.64.0.1'],
    ['of the link', '169.254.169.254'],
    ['of the link', 'fe80::1'],
    ['local and unique', 'fd00::1'],
    ['a group', '224.0.0.1'],
    ['a group', 'ff02::1'],
    ['for everybody', '255.255.255.255'],
    ['a tunnel to 127.0.0.1', '2002:7f00:1::'],
    ['a translation of 127.0.0.1', '64:ff9b::7f00:1'],
    ['for documents', '2001:db8::1'],
    ['no address', 'push.example'],
  ])('is not one that is %s: %s', (_what, address) => {
    expect(isPublicAddress(address)).toBe(false)
  })

  it('may stand behind a name with a dot, but for names of a home or of this machine', () => {
    expect(['push.example', 'a.b.example', '8.8.8.8', '[2600::1]'].filter(mayBePublic)).toHaveLength(4)
    const inside = [
      'localhost',
      'printer',
      'nas.local',
      'a.localhost',
      'x.internal',
      'x.home.arpa',
      '[::1]',
      '10.0.0.1',
    ]
    expect(inside.filter(mayBePublic)).toEqual([])
  })
})

describe('the network that limits count by', () => {
  it.each([
    ['192.0.2.7', '192.0.2.7'],
    ['::ffff:192.0.2.7', '192.0.2.7'],
    ['2001:db8:1:2:3::4', '2001:db8:1:2'],
    ['2001:db8::4', '2001:db8:0:0'],
    ['::1', '0:0:0:0'],
  ])('of %s is %s', (address, network) => {
    expect(networkOf(address)).toBe(network)
  })
})
