import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { IDLE_MS, LIFETIME_MS, MOST_PER_PERSON } from '../../../server/access/sessions.ts'
import { type AccessBench, accessBench, BENCH_PLACE, requestFrom } from '../../support/accessBench.ts'

const AWAY = '192.0.2.7'

describe('a session', () => {
  let bench: AccessBench
  let token: string
  beforeEach(async () => {
    bench = accessBench()
    token = await bench.person('Ada', 'operator')
  })
  afterEach(() => bench.close())

  const name = (of = token) => bench.access.actor(requestFrom(AWAY, { token: of }))?.name

  it('names the person, and nothing that resembles its token does', () => {
    expect(name()).toBe('Ada')
    for (const wrong of ['', 'x', token.slice(0, -1), `${token}A`, token.toLowerCase()])
      expect(name(wrong)).toBeUndefined()
  })

  it('has a token of 256 random bits, of which only the hash is stored', () => {
    expect(Buffer.from(token, 'base64url').length).toBe(32)
    const rows = JSON.stringify(bench.state.database.prepare('SELECT * FROM session').all())
    expect(rows).not.toContain(token)
  })

  it('lasts across a restart of the server', () => {
    bench.restart()
    expect(name()).toBe('Ada')
  })

  it('ends after twelve hours without a request', () => {
    bench.clock.advance(IDLE_MS)
    expect(name()).toBe('Ada')
    bench.clock.advance(IDLE_MS + 1)
    expect(name()).toBeUndefined()
    bench.restart()
    expect(name()).toBeUndefined()
  })

  it('ends after a week however busy', () => {
    for (let passed = 0; passed < LIFETIME_MS; passed += IDLE_MS) {
      expect(name()).toBe('Ada')
      bench.clock.advance(IDLE_MS)
    }
    bench.clock.advance(1)
    expect(name()).toBeUndefined()
  })

  it('that ended while the disk refused to forget it is forgotten when it can be', () => {
    const { sessions, session } = bench.access
    const { database } = bench.state
    database.exec("CREATE TRIGGER full BEFORE DELETE ON session BEGIN SELECT RAISE(ABORT, 'full'); END")
    sessions.end(session(requestFrom(AWAY, { token }))!.key)
    database.exec('DROP TRIGGER full')
    sessions.sweep()
    bench.restart()
    expect(name()).toBeUndefined()
  })

  it('that ended while the disk refused to forget it does not come back with the next start, nor with the one after', () => {
    const { sessions, session } = bench.access
    const { database } = bench.state
    database.exec("CREATE TRIGGER full BEFORE DELETE ON session BEGIN SELECT RAISE(ABORT, 'full'); END")
    const { key } = session(requestFrom(AWAY, { token }))!
    sessions.end(key)
    bench.restart()
    expect(name()).toBeUndefined()
    bench.restart()
    expect(name()).toBeUndefined()
    bench.state.database.exec('DROP TRIGGER full')
    bench.access.sessions.sweep()
    expect(bench.state.database.prepare('SELECT * FROM session WHERE key = ?').all(key)).toEqual([])
  })

  it.each([
    [200, 'goes on'],
    [300, 'has to sign in again'],
  ])('none of %d that ended so comes back, and who had not signed out %s', async (count, others) => {
    const { sessions, session } = bench.access
    const { person } = session(requestFrom(AWAY, { token }))!
    const other = await bench.person('Eve', 'viewer')
    bench.state.database.exec(
      "CREATE TRIGGER full BEFORE DELETE ON session BEGIN SELECT RAISE(ABORT, 'full'); END",
    )
    const tokens = Array.from({ length: count }, () => sessions.start(person, BENCH_PLACE))
    sessions.endAll(person)
    bench.restart()
    for (const one of [token, ...tokens]) expect(name(one)).toBeUndefined()
    expect(name(other)).toBe(others === 'goes on' ? 'Eve' : undefined)
  })

  it('does not count while the clock of the server stands before its beginning', () => {
    bench.clock.setWall(Date.UTC(1970, 0, 2))
    expect(name()).toBeUndefined()
  })

  it('makes way for a new one when the person has twenty', async () => {
    const { sessions, person } = bench.access
    const { id } = person(requestFrom(AWAY, { token }))!
    bench.clock.advance(1)
    for (let i = 1; i < MOST_PER_PERSON; i++) sessions.start(id, BENCH_PLACE)
    expect(sessions.of(id)).toHaveLength(MOST_PER_PERSON)
    sessions.start(id, BENCH_PLACE)
    expect(sessions.of(id)).toHaveLength(MOST_PER_PERSON)
    expect(name()).toBeUndefined()
  })

  it('tells when it ends, also by the mere passing of time', () => {
    const ended: string[] = []
    const stop = bench.access.sessions.onEnded((key) => ended.push(key))
    bench.clock.advance(IDLE_MS + 60_000)
    expect(ended.length).toBe(2)
    stop()
  })
})
