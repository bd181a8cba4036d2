import { describe, expect, it } from 'vitest'
import { isKnownHost } from '../../../server/http/guards.ts'
import { requestFrom } from '../../support/accessBench.ts'

const asked = (host: string) => requestFrom('127.0.0.1', { headers: { host } })

describe('isKnownHost', () => {
  const home = { host: '127.0.0.1', pageName: 'plant.example' }

  it.each(['127.0.0.1:8080', 'localhost', '[::1]:8080', 'plant.example', 'Plant.Example:443'])(
    'answers under %s',
    (host) => {
      expect(isKnownHost(asked(host), home)).toBe(true)
    },
  )

  // A name that begins like a loopback address is anybody's: RFC 1123, 2.1, lets host names begin with digits.
  it.each([
    'evil.example',
    'plant.example.evil.example',
    'xplant.example',
    '127.evil.example:8080',
    '',
    '192.0.2.1',
  ])('does not answer under %j', (host) => {
    expect(isKnownHost(asked(host), home)).toBe(false)
  })

  it('answers under any name where it listens to other machines, whose names for it nobody knows', () => {
    expect(isKnownHost(asked('anything.example'), { host: '0.0.0.0', pageName: null })).toBe(true)
  })
})
