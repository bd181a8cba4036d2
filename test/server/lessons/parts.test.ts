import type { IncomingMessage } from 'node:http'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { joinAddresses, makeLessonCode, readLessonCode } from '../../../server/lessons/joining.ts'
import { createSteadyWatch } from '../../../server/lessons/steadyWatch.ts'
import type { Scene } from '../../../server/push/scene.ts'

describe('the code of a lesson', () => {
  it('has no letter that is taken for another, and is read back however it is typed', () => {
    fc.assert(
      fc.property(fc.infiniteStream(fc.nat(10_000)), fc.boolean(), (numbers, isLoud) => {
        const code = makeLessonCode((below) => (numbers.next().value as number) % below)
        expect(code).toMatch(/^[a-z]{4}-[a-z]{4}$/)
        expect(code).not.toMatch(/[lqwyzxcj01]/)
        expect(readLessonCode(isLoud ? code.toUpperCase() : code.replace('-', ' '))).toBe(code)
      }),
    )
  })

  it('is one of 60⁴ and does not repeat itself soon', () => {
    const codes = new Set(Array.from({ length: 500 }, () => makeLessonCode()))
    // by the birthday rule 500 of 13 million meet with a chance of 1 %; two meetings would be a fault
    expect(codes.size).toBeGreaterThan(498)
  })
})

describe('the address for joining', () => {
  const asked = (host: string, socket = {}) =>
    ({ headers: { host }, socket: { localPort: 8080, ...socket } }) as unknown as IncomingMessage
  const lan = { eth: [{ address: '192.0.2.5', family: 'IPv4', internal: false }] } as never

  it('is none where only this machine can open the page, and the note says how to change that', () => {
    const { addresses, note } = joinAddresses(asked('127.0.0.1:8080'), '127.0.0.1', lan)
    expect(addresses).toEqual([])
    expect(note).toMatch(/--http-host 0\.0\.0\.0/)
  })

  it('is that of the network where the server listens everywhere', () => {
    expect(joinAddresses(asked('localhost:8080'), '0.0.0.0', lan).addresses).toEqual([
      'http://192.0.2.5:8080',
    ])
  })

  it('begins with https where the port of the server speaks TLS, not where a proxy before it does', () => {
    const own = asked('localhost:8080', { encrypted: true })
    expect(joinAddresses(own, '0.0.0.0', lan).addresses).toEqual(['https://192.0.2.5:8080'])
    const proxied = asked('rig.example')
    proxied.headers['x-forwarded-proto'] = 'https'
    expect(joinAddresses(proxied, '0.0.0.0', lan).addresses).toEqual([
      'https://rig.example',
      'http://192.0.2.5:8080',
    ])
  })

  it('is first the one under which the page was opened', () => {
    const { addresses } = joinAddresses(asked('rig.example'), '127.0.0.1', lan)
    expect(addresses).toEqual(['http://rig.example'])
  })
})

describe('the steady lamp', () => {
  const scene = (speed: number | null) =>
    ({
      view: { figures: [{ id: 'speed', name: 'Speed', rated: 157 }] },
      value: () => ({ value: speed }),
    }) as unknown as Scene

  function watched(speed: (second: number) => number | null, seconds: number) {
    const watch = createSteadyWatch()
    for (let ms = 0; ms <= seconds * 1000; ms += 250) watch.take(scene(speed(ms / 1000)), ms)
    return watch.lamp()
  }

  it('says hold until 20 s were watched, then steady', () => {
    expect(watched(() => 157, 10).state).toBe('hold')
    expect(watched(() => 157, 21)).toEqual({ state: 'steady', sentence: 'Steady for 20 s.' })
  })

  it('says hold while the speed drifts by more than 0.5 % in 20 s (trade practice)', () => {
    expect(watched((second) => 157 * (1 + 0.0004 * second), 25)).toEqual({
      state: 'hold',
      sentence: 'Speed is still moving.',
    })
    expect(watched((second) => 157 * (1 + 0.0001 * second), 25).state).toBe('steady')
  })

  it('says not known without a value, and hold while one was missing a moment ago', () => {
    expect(watched((second) => (second > 24 ? null : 157), 25).state).toBe('unknown')
    expect(watched((second) => (second < 10 ? null : 157), 25).state).toBe('hold')
  })

  it('begins anew when a replay jumps back', () => {
    const watch = createSteadyWatch()
    for (let ms = 0; ms <= 21_000; ms += 500) watch.take(scene(157), 100_000 + ms)
    expect(watch.lamp().state).toBe('steady')
    watch.take(scene(157), 50_000)
    expect(watch.lamp().state).toBe('hold')
  })
})
