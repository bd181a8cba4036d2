import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { createLockOut, LOCK_OUT_LIMIT } from '../../../server/access/lockOut.ts'

const ADA = { name: 'ada', address: '192.0.2.1' }

function bench() {
  const time = { mono: 0 }
  const lockOut = createLockOut(() => time.mono)
  /** Fails as soon as it may, so often. Returns the waits that were asked for. */
  const fail = (attempt: typeof ADA, times: number) =>
    Array.from({ length: times }, () => {
      lockOut.failed(attempt)
      const wait = lockOut.waitMs(attempt)
      time.mono += wait
      return wait
    })
  return { time, lockOut, fail }
}

describe('createLockOut', () => {
  it('lets three failures pass, then doubles the wait up to five minutes', () => {
    const waits = bench().fail(ADA, 14)
    expect(waits).toEqual([0, 0, 0, 1, 2, 4, 8, 16, 32, 64, 128, 256, 300, 300].map((s) => s * 1000))
  })

  it('keeps others at other addresses in', () => {
    const { lockOut, fail } = bench()
    fail(ADA, 8)
    lockOut.failed(ADA)
    expect(lockOut.waitMs(ADA)).toBeGreaterThan(0)
    expect(lockOut.waitMs({ name: 'ben', address: '192.0.2.2' })).toBe(0)
    expect(lockOut.waitMs({ name: 'ada', address: '192.0.2.2' })).toBe(0)
  })

  it('slows an address down that tries many names', () => {
    const { lockOut } = bench()
    for (let i = 0; i < 12; i++) lockOut.failed({ name: `n${i}`, address: '192.0.2.1' })
    expect(lockOut.waitMs({ name: 'new', address: '192.0.2.1' })).toBeGreaterThan(0)
  })

  it('slows a name down that is tried from many addresses, by half a minute at most', () => {
    const { lockOut } = bench()
    for (let i = 0; i < 200; i++) lockOut.failed({ name: 'ada', address: `192.0.2.${i}` })
    expect(lockOut.waitMs({ name: 'ada', address: '198.51.100.1' })).toBe(30_000)
  })

  it('counts a known browser by itself, whatever fails at its address or by its name', () => {
    const { lockOut, fail } = bench()
    const known = { ...ADA, device: 'a' }
    for (let i = 0; i < 50; i++) {
      lockOut.failed({ name: `n${i}`, address: ADA.address })
      lockOut.failed({ name: 'ada', address: `198.51.100.${i}` })
    }
    expect(lockOut.waitMs(ADA)).toBeGreaterThan(0)
    expect(lockOut.waitMs(known)).toBe(0)
    expect(fail(known, 7)).toEqual([0, 0, 0, 0, 0, 1000, 2000])
    expect(lockOut.waitMs({ ...known, device: 'b' })).toBe(0)
  })

  it('takes all addresses of one IPv6 network for one', () => {
    const { lockOut } = bench()
    for (let i = 0; i < 12; i++) lockOut.failed({ name: `n${i}`, address: `2001:db8:0:1::${i}` })
    expect(lockOut.waitMs({ name: 'new', address: '2001:db8::1:a:b:c:d' })).toBeGreaterThan(0)
    expect(lockOut.waitMs({ name: 'new', address: '2001:db8:0:2::1' })).toBe(0)
  })

  it('forgets after half an hour without a failure', () => {
    const { time, lockOut, fail } = bench()
    fail(ADA, 8)
    time.mono += 1_800_000
    lockOut.failed(ADA)
    expect(lockOut.waitMs(ADA)).toBe(0)
  })

  it('begins anew for a person who got in', () => {
    const { lockOut, fail } = bench()
    fail(ADA, 5)
    lockOut.failed(ADA)
    lockOut.undo(ADA, true)
    lockOut.failed(ADA)
    expect(lockOut.waitMs(ADA)).toBe(0)
  })

  it('gains nothing for whoever gets in by another name in between', () => {
    const { lockOut } = bench()
    const own = { name: 'mallory', address: ADA.address }
    for (let i = 0; i < 11; i++) {
      lockOut.failed(ADA)
      lockOut.failed(own)
      lockOut.undo(own, true)
    }
    expect(lockOut.waitMs({ name: 'new', address: ADA.address })).toBe(0)
    lockOut.failed({ name: 'ben', address: ADA.address })
    expect(lockOut.waitMs({ name: 'new', address: ADA.address })).toBeGreaterThan(0)
  })

  it('keeps nobody out for longer than five minutes, and its table bounded, whatever is tried', () => {
    const attempt = fc.record({
      name: fc.constantFrom('ada', 'ben', 'cy'),
      address: fc.constantFrom('192.0.2.1', '192.0.2.2', '2001:db8::1'),
    })
    const step = fc.record({
      attempt,
      pause: fc.nat(600_000),
      outcome: fc.constantFrom('wrong', 'right', 'busy'),
    })
    fc.assert(
      fc.property(fc.array(step, { maxLength: 200 }), (steps) => {
        const { time, lockOut } = bench()
        for (const { attempt, pause, outcome } of steps) {
          time.mono += pause
          lockOut.failed(attempt)
          if (outcome !== 'wrong') lockOut.undo(attempt, outcome === 'right')
          expect(lockOut.waitMs(attempt)).toBeLessThanOrEqual(300_000)
        }
        time.mono += 300_000
        for (const { attempt } of steps) expect(lockOut.waitMs(attempt)).toBe(0)
      }),
      { numRuns: 100 },
    )
  })

  it('forgets what failed longest ago when its table is full, and counts it', () => {
    const { lockOut } = bench()
    for (let i = 0; i < LOCK_OUT_LIMIT; i++) lockOut.failed({ name: `n${i}`, address: `a${i}` })
    const { length, limit, dropped } = lockOut.queue()
    expect(length).toBe(limit)
    expect(dropped).toBe(3 * LOCK_OUT_LIMIT - LOCK_OUT_LIMIT)
  })
})
