import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type AccessBench, accessBench, BENCH_PASSWORD } from '../../support/accessBench.ts'
import { codeOfApp } from '../../support/totp.ts'

const STEP_MS = 30_000

/**
 * Source: RFC 6238, Appendix B, SHA1, key "12345678901234567890" (here in base32), 8 digits. Six digits are the last
 * six of eight, by the modulo of RFC 4226, 5.3.
 */
const RFC_KEY = 'GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ'
const RFC_VECTORS = [
  [59, '94287082'],
  [1_111_111_109, '07081804'],
  [1_111_111_111, '14050471'],
  [1_234_567_890, '89005924'],
  [2_000_000_000, '69279037'],
  [20_000_000_000, '65353130'],
] as const

describe('codes of a second factor', () => {
  let bench: AccessBench
  beforeEach(async () => {
    bench = accessBench()
    await bench.person('First', 'administrator')
  })
  afterEach(() => bench.close())

  it.each(RFC_VECTORS)('at %d s are those of RFC 6238: %s', (seconds, code) => {
    expect(codeOfApp(RFC_KEY, seconds * 1000, 8)).toBe(code)
    const put = 'INSERT INTO secondFactor (person, secret, since, step) VALUES (1, ?, 0, 0)'
    bench.state.database.prepare(put).run(RFC_KEY)
    bench.restart()
    bench.clock.setWall(seconds * 1000)
    const { factors } = bench.access
    expect(factors.refusal(1, String((Number(code) + 1) % 1e6).padStart(6, '0'))).toMatchObject({
      status: 401,
    })
    expect(factors.refusal(1, code.slice(-6))).toBeUndefined()
  })
})

describe('a second factor', () => {
  let bench: AccessBench
  let id: number
  let key: string
  let recoveryCodes: string[]

  const now = () => codeOfApp(key, bench.clock.now())
  const person = () => bench.access.administer.list().find(({ name }) => name === 'Ada')!

  beforeEach(async () => {
    bench = accessBench()
    await bench.person('First', 'administrator')
    await bench.person('Ada', 'operator')
    id = person().id
    key = begin()
    const outcome = bench.access.factors.confirm(id, now())
    if (!outcome.ok) throw new Error(outcome.error)
    recoveryCodes = outcome.value
    bench.clock.advance(STEP_MS)
  })
  afterEach(() => bench.close())

  function begin(): string {
    const { signIn, factors } = bench.access
    expect(signIn).toBeDefined()
    return factors.begin({ id, name: 'Ada' } as Parameters<typeof factors.begin>[0]).key
  }

  let visits = 0
  /** Each from an address of its own, so that only what is asked about slows it down. */
  const enter = (
    secondFactor?: string,
    { password = BENCH_PASSWORD, address = `192.0.2.${++visits}` } = {},
  ) => bench.access.signIn.withPassword({ name: 'Ada', password, address, secondFactor })

  it('has a key of 160 random bits that an app reads from an otpauth address', () => {
    const { factors } = bench.access
    const made = factors.begin({ id, name: 'Ada' } as Parameters<typeof factors.begin>[0])
    // 160 bits in base32 are 32 letters. Source: RFC 4648; RFC 4226, R6
    expect(made.key).toMatch(/^[A-Z2-7]{32}$/)
    const address = new URL(made.address)
    // the form that apps know, from memory
    expect([address.protocol, address.host, decodeURIComponent(address.pathname)]).toEqual([
      'otpauth:',
      'totp',
      '/Headrace:Ada',
    ])
    expect(address.searchParams.get('secret')).toBe(made.key)
    expect(made.qr.path).toContain('M4 4h')
  })

  it('is asked for after the right password only', async () => {
    expect(await enter()).toMatchObject({ ok: false, status: 401, needs: 'secondFactor' })
    const wrong = await enter(undefined, { password: 'wrong' })
    expect(wrong).toMatchObject({ ok: false, status: 401 })
    expect(wrong).not.toHaveProperty('needs')
    expect(await enter(now(), { password: 'wrong' })).not.toHaveProperty('needs')
    expect((await enter(now())).ok).toBe(true)
  })

  it('lets in across a restart, and takes the code typed with a space', async () => {
    bench.restart()
    expect((await enter(now().replace(/^.../, '$& '))).ok).toBe(true)
  })

  it('counts a code once, also for two who use it at the same moment', async () => {
    const both = await Promise.all([enter(now()), enter(now())])
    expect(both.map(({ ok }) => ok).sort()).toEqual([false, true])
    expect((await enter(now())).ok).toBe(false)
    bench.restart()
    expect((await enter(now())).ok).toBe(false)
    bench.clock.advance(STEP_MS)
    expect((await enter(now())).ok).toBe(true)
  })

  it('takes a code of the step before and after, and none that is further off', async () => {
    const at = (steps: number) => codeOfApp(key, bench.clock.now() + steps * STEP_MS)
    bench.clock.advance(10 * STEP_MS)
    expect((await enter(at(-2))).ok).toBe(false)
    expect((await enter(at(2))).ok).toBe(false)
    expect((await enter(at(-1))).ok).toBe(true)
    expect((await enter(at(1))).ok).toBe(true)
  })

  it('keeps nobody out whose last code was counted before the clock of the server was set back', async () => {
    const before = bench.clock.now()
    bench.clock.setWall(before + 10 * 365 * 86_400_000)
    expect((await enter(now())).ok).toBe(true)
    bench.clock.setWall(before)
    expect((await enter(now())).ok).toBe(true)
  })

  it('slows wrong codes down as wrong passwords, however often the right password is shown between', async () => {
    const address = '192.0.2.200'
    for (let i = 0; i < 4; i++) {
      expect(await enter('000000', { address })).toMatchObject({ status: 401 })
      if (i < 3) expect(await enter(undefined, { address })).toMatchObject({ needs: 'secondFactor' })
    }
    expect(await enter(now(), { address })).toMatchObject({ status: 429 })
    bench.clock.advance(1000)
    expect((await enter(now(), { address })).ok).toBe(true)
  })

  it('is asked for with a one-time code of an administrator too, and guesses at it are slowed down', async () => {
    const reset = bench.access.administer.resetPassword(id)
    if (!reset.ok) throw new Error(reset.error)
    const wish = {
      name: 'Ada',
      password: 'turn the water on',
      code: reset.value.code,
      address: '192.0.2.201',
    }
    const use = (secondFactor?: string) => bench.access.signIn.withCode({ ...wish, secondFactor })
    expect(await use()).toMatchObject({ status: 401, needs: 'secondFactor' })
    for (let i = 0; i < 4; i++) expect(await use('000000')).toMatchObject({ status: 401 })
    expect(await use(now())).toMatchObject({ status: 429 })
    bench.clock.advance(1000)
    expect((await use(now())).ok).toBe(true)
  })

  it('is taken off by the set-up code of the console, for whom nothing else is left', async () => {
    bench.restart({ newSetupCode: true })
    const wish = { name: 'Ada', password: 'turn the water on', address: '192.0.2.202' }
    expect((await bench.access.signIn.withSetUpCode({ ...wish, code: bench.setUpCode() })).ok).toBe(true)
    expect(bench.access.factors.of(id)).toBeNull()
  })

  it('has ten recovery codes, each good once, of which only hashes are stored', async () => {
    expect(new Set(recoveryCodes).size).toBe(10)
    const rows = JSON.stringify(bench.state.database.prepare('SELECT * FROM recoveryCode').all())
    for (const code of recoveryCodes) expect(rows).not.toContain(code)
    expect((await enter(recoveryCodes[3]!.toLowerCase())).ok).toBe(true)
    expect(bench.access.factors.of(id)).toMatchObject({ recoveryCodes: 9 })
    bench.restart()
    expect((await enter(recoveryCodes[3])).ok).toBe(false)
    expect((await enter(recoveryCodes[4])).ok).toBe(true)
  })

  it('ends the recovery codes before with new ones, and those of nobody else', async () => {
    const fresh = bench.access.factors.renewRecovery(id)
    if (!fresh.ok) throw new Error(fresh.error)
    expect((await enter(recoveryCodes[0])).ok).toBe(false)
    expect((await enter(fresh.value[0])).ok).toBe(true)
    expect(bench.access.factors.renewRecovery(1)).toMatchObject({ ok: false, status: 409 })
  })

  it('takes the recovery code of another person for none', async () => {
    const { factors } = bench.access
    const first = factors.begin({ id: 1, name: 'First' } as Parameters<typeof factors.begin>[0])
    const theirs = factors.confirm(1, codeOfApp(first.key, bench.clock.now()))
    if (!theirs.ok) throw new Error(theirs.error)
    expect((await enter(theirs.value[0])).ok).toBe(false)
  })

  it('counts only once a code has proven the key, and until then the key before', async () => {
    const before = key
    const fresh = begin()
    expect(bench.access.factors.confirm(id, '000000')).toMatchObject({ ok: false, status: 400 })
    expect((await enter(codeOfApp(fresh, bench.clock.now()))).ok).toBe(false)
    expect((await enter(codeOfApp(before, bench.clock.now()))).ok).toBe(true)
    expect(bench.access.factors.confirm(id, codeOfApp(fresh, bench.clock.now())).ok).toBe(true)
    bench.clock.advance(STEP_MS)
    expect((await enter(codeOfApp(before, bench.clock.now()))).ok).toBe(false)
    expect((await enter(codeOfApp(fresh, bench.clock.now()))).ok).toBe(true)
  })

  it('forgets a key that nobody proved within 15 min', () => {
    const fresh = begin()
    bench.clock.advance(900_001)
    expect(bench.access.factors.confirm(id, codeOfApp(fresh, bench.clock.now()))).toMatchObject({
      status: 409,
    })
  })

  it('goes with the person, and is taken off by an administrator', async () => {
    expect(bench.access.administer.list().map(({ hasSecondFactor }) => hasSecondFactor)).toContain(true)
    expect(bench.access.administer.takeSecondFactorOff(id)).toMatchObject({
      ok: true,
      value: { hasSecondFactor: false },
    })
    expect((await enter()).ok).toBe(true)
    expect(bench.access.administer.takeSecondFactorOff(id)).toMatchObject({ status: 409 })
    begin()
    bench.access.administer.remove(id)
    for (const table of ['secondFactor', 'recoveryCode'])
      expect(bench.state.database.prepare(`SELECT * FROM ${table}`).all()).toEqual([])
  })

  it('changes nothing that the disk refuses', () => {
    bench.state.database.exec('ALTER TABLE recoveryCode RENAME TO away')
    expect(bench.access.factors.remove(id)).toMatchObject({ status: 503 })
    expect(bench.access.factors.renewRecovery(id)).toMatchObject({ status: 503 })
    expect(bench.access.factors.of(id)).toMatchObject({ recoveryCodes: 10 })
    bench.state.database.exec('ALTER TABLE away RENAME TO recoveryCode')
  })
})
