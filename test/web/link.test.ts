import { describe, expect, it } from 'vitest'
import { linkNotice, nextStep, PROBE_MS, QUIET_MS, retryDelay } from '../../web/connect/linkStatus.ts'
import { createServerClock } from '../../web/hold/serverClock.ts'
import { MORNING } from './support.ts'

const source = { connected: true, name: 'embedded broker', since: null }

describe('linkNotice', () => {
  it('is silent while frames come and the source is connected', () => {
    expect(linkNotice({ phase: 'live', silentMs: 0 }, source)).toBeNull()
  })

  it('says within two seconds that the server is silent', () => {
    // The page looks every 250 ms.
    expect(QUIET_MS + 250).toBeLessThan(2000)
    expect(linkNotice({ phase: 'live', silentMs: QUIET_MS }, source)?.kind).toBe('quiet')
  })

  it('says at once that the connection is lost', () => {
    expect(linkNotice({ phase: 'lost', silentMs: 0 }, source)).toMatchObject({ kind: 'lost' })
  })

  it('names the source that is not connected, and why', () => {
    const broken = { ...source, connected: false, detail: 'connection refused' }
    const notice = linkNotice({ phase: 'live', silentMs: 0 }, broken)
    expect(notice?.kind).toBe('source')
    expect(notice?.text).toContain('embedded broker is not connected (connection refused)')
  })

  it('tells a lost connection before a lost source', () => {
    expect(linkNotice({ phase: 'lost', silentMs: 0 }, { ...source, connected: false })?.kind).toBe('lost')
  })

  it('passes on why the server refused', () => {
    expect(linkNotice({ phase: 'refused', silentMs: 0, detail: 'There is no plant "x".' }, null)?.text).toBe(
      'There is no plant "x".',
    )
  })
})

describe('nextStep', () => {
  it('joins anew after a long silence', () => {
    expect(nextStep({ phase: 'live', silentMs: PROBE_MS }, 'none')).toBe('join')
  })

  it('waits for the answer before it asks again', () => {
    expect(nextStep({ phase: 'live', silentMs: PROBE_MS * 2 }, 'waiting')).toBe('nothing')
  })

  it('opens the socket anew when nobody answers: it died without closing', () => {
    expect(nextStep({ phase: 'live', silentMs: PROBE_MS * 2 }, 'unanswered')).toBe('reopen')
  })

  it('leaves a lost socket to the library', () => {
    expect(nextStep({ phase: 'lost', silentMs: 60_000 }, 'none')).toBe('nothing')
  })
})

describe('retryDelay', () => {
  it('doubles up to eight seconds', () => {
    expect([0, 1, 2, 3, 4, 40].map(retryDelay)).toEqual([1000, 2000, 4000, 8000, 8000, 8000])
  })
})

describe('createServerClock', () => {
  const setUp = () => {
    const time = { wall: 5_000_000, mono: 100 }
    const clock = createServerClock({ wall: () => time.wall, mono: () => time.mono })
    const pass = (ms: number) => {
      time.wall += ms
      time.mono += ms
    }
    return { time, clock, pass }
  }

  it('goes by the server, however wrong the clock of this machine is', () => {
    const { clock, pass } = setUp()
    clock.take(MORNING)
    pass(3000)
    expect(clock.now()).toBe(MORNING + 3000)
  })

  it('is not turned back by a frame that was long on its way', () => {
    const { clock, pass } = setUp()
    clock.take(MORNING)
    pass(5000)
    clock.take(MORNING + 1000)
    expect(clock.now()).toBe(MORNING + 5000)
  })

  it('counts the time a machine slept, so that old values do not look fresh', () => {
    const { clock, time } = setUp()
    clock.take(MORNING)
    time.wall += 3_600_000
    expect(clock.now()).toBe(MORNING + 3_600_000)
  })

  it('gets over a step of the clock of this machine with the next frame', () => {
    const { clock, time, pass } = setUp()
    clock.take(MORNING)
    time.wall += 40_000
    pass(1000)
    clock.take(MORNING + 1000)
    expect(clock.now()).toBe(MORNING + 1000)
  })
})
