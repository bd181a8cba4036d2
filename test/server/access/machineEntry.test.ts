import { afterEach, describe, expect, it } from 'vitest'
import { type AccessBench, accessBench, requestFrom } from '../../support/accessBench.ts'

describe('a machine that runs only the demo', () => {
  let bench: AccessBench
  afterEach(() => bench.close())
  const here = requestFrom('::ffff:127.0.0.1')
  const codeTold = () => /\/enter\/(\S+)/.exec(bench.notices.at(-1)!)![1]!

  it('lets a browser that came in by the address on its console act as "demo (this machine)" until there is a user', async () => {
    bench = accessBench({ demo: true, plants: [] })
    const here = requestFrom('::ffff:127.0.0.1', { headers: { cookie: bench.machine() } })
    expect(bench.access.actor(here)).toMatchObject({ name: 'demo (this machine)', role: 'demo' })
    expect(bench.notices.join()).toMatch(/whoever enters on this machine/)
    await bench.person('First', 'administrator')
    expect(bench.access.actor(here)).toBeUndefined()
    expect(bench.access.may(here, 'read')).toBe(true)
  })

  it('gives a program that only comes from a loopback address nothing', () => {
    bench = accessBench({ demo: true, plants: [] })
    expect(bench.access.actor(here)).toBeUndefined()
    expect(bench.access.may(here, 'read')).toBe(false)
  })

  it('takes each address on the console once, and then tells the next', () => {
    bench = accessBench({ demo: true, plants: [] })
    const code = codeTold()
    expect(bench.access.machine.enter(here, code).ok).toBe(true)
    expect(bench.access.machine.enter(here, code)).toMatchObject({ status: 410 })
    expect(codeTold()).not.toBe(code)
    expect(bench.access.machine.enter(here, codeTold()).ok).toBe(true)
  })

  it.each([{ pageName: 'plant.example' }, { publicUrl: 'https://plant.example' }])(
    'tells no such address where a public name leads to it: %j',
    (name) => {
      bench = accessBench({ demo: true, plants: [] })
      const cookie = bench.machine()
      const code = codeTold()
      bench.restart({ demo: true, plants: [], ...name })
      expect(bench.notices.at(-1)).not.toContain('/enter/')
      expect(bench.access.machine.enter(here, code)).toMatchObject({ status: 403 })
      const inside = requestFrom('127.0.0.1', { headers: { cookie } })
      expect(bench.access.actor(inside)).toBeUndefined()
      expect(bench.access.may(inside, 'read')).toBe(false)
    },
  )

  it.each([
    ['another machine', requestFrom('192.0.2.1')],
    ['a proxy on this machine', requestFrom('127.0.0.1', { headers: { 'x-forwarded-for': '192.0.2.1' } })],
    [
      'a proxy on this machine that names nobody',
      requestFrom('127.0.0.1', { headers: { host: 'plant.example' } }),
    ],
    [
      'a page of another name that was bent to this machine',
      requestFrom('::1', { headers: { host: 'rebound.example:8080' } }),
    ],
    [
      'such a page whose name begins like a loopback address',
      requestFrom('127.0.0.1', { headers: { host: '127.evil.example:8080' } }),
    ],
  ])('lets %s neither act nor read', (_, request) => {
    bench = accessBench({ demo: true, plants: [] })
    // Not even with what a browser on this machine was given.
    const cookie = bench.machine()
    const stolen = { ...request, headers: { ...request.headers, cookie } } as typeof request
    for (const asked of [request, stolen]) {
      expect(bench.access.actor(asked)).toBeUndefined()
      expect(bench.access.may(asked, 'read')).toBe(false)
    }
    expect(bench.access.machine.enter(request, codeTold())).toMatchObject({ status: 403 })
  })

  it('is none any more when it runs a plant file too', () => {
    bench = accessBench({ demo: true, plants: ['mill.yaml'] })
    const inside = requestFrom('127.0.0.1', { headers: { cookie: bench.machine() } })
    expect(bench.access.actor(inside)).toBeUndefined()
    expect(bench.access.may(inside, 'acknowledge')).toBe(false)
    expect(bench.access.may(inside, 'read')).toBe(true)
  })

  it('is read by everybody where that was switched on', () => {
    bench = accessBench({ openReading: true })
    const away = requestFrom('192.0.2.1')
    expect(bench.access.may(away, 'read')).toBe(true)
    expect(bench.access.describe(away)).toEqual({
      name: null,
      role: null,
      actions: ['read'],
      secondFactor: null,
      hasUsers: false,
    })
  })
})
