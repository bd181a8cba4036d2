import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { CODE_LIFETIME_MS } from '../../../server/access/administer.ts'
import { type AccessBench, accessBench, BENCH_PASSWORD, requestFrom } from '../../support/accessBench.ts'

const address = '192.0.2.1'
const password = 'turn the water on'

describe('the first start', () => {
  let bench: AccessBench
  afterEach(() => bench.close())

  it('tells a set-up code on the console, of which only a hash is stored', () => {
    bench = accessBench()
    const code = bench.setUpCode()
    expect(code).toMatch(/^(?:[0-9A-Z]{4}-){4}[0-9A-Z]{4}$/)
    const rows = JSON.stringify(bench.state.database.prepare('SELECT * FROM setUpCode').all())
    expect(rows).not.toContain(code.slice(0, 4))
    expect(bench.access.administer.list()).toEqual([])
  })

  it('makes one administrator with the code, typed carelessly, and none a second time', async () => {
    bench = accessBench()
    const { signIn, administer } = bench.access
    const code = ` ${bench.setUpCode().toLowerCase().replaceAll('-', ' ').replaceAll('0', 'o').replaceAll('1', 'l')}`
    const wish = { name: 'Ada', password, address }
    expect(await signIn.withSetUpCode({ ...wish, code: 'AAAA' })).toMatchObject({ ok: false, status: 401 })
    expect(await signIn.withSetUpCode({ ...wish, code })).toMatchObject({
      ok: true,
      value: { person: { role: 'administrator' } },
    })
    expect(await signIn.withSetUpCode({ ...wish, name: 'Ben', code })).toMatchObject({ status: 401 })
    expect(administer.list().map((one) => one.name)).toEqual(['Ada'])
  })

  it('lets only one of two through who use the code at the same moment', async () => {
    bench = accessBench()
    const wish = { password, code: bench.setUpCode() }
    const outcomes = await Promise.all([
      bench.access.signIn.withSetUpCode({ ...wish, name: 'Ada', address }),
      bench.access.signIn.withSetUpCode({ ...wish, name: 'Mallory', address: '192.0.2.2' }),
    ])
    expect(outcomes.map((one) => one.ok)).toEqual([true, false])
  })

  it('refuses a weak password and keeps the code for a better one', async () => {
    bench = accessBench()
    const wish = { name: 'Ada', code: bench.setUpCode(), address }
    const weak = await bench.access.signIn.withSetUpCode({ ...wish, password: 'short' })
    expect(weak).toMatchObject({
      status: 400,
      faults: [{ path: 'password', received: 'something else', expected: 'at least 12 characters' }],
    })
    expect((await bench.access.signIn.withSetUpCode({ ...wish, password })).ok).toBe(true)
  })

  it('refuses a password that many use with the reason, once the code is right, and keeps the code', async () => {
    bench = accessBench()
    const wish = { name: 'Ada', password: 'password1234', code: bench.setUpCode(), address }
    expect(await bench.access.signIn.withSetUpCode({ ...wish, code: 'AAAA' })).toMatchObject({ status: 401 })
    expect(await bench.access.signIn.withSetUpCode(wish)).toMatchObject({
      status: 400,
      faults: [{ path: 'password', expected: expect.stringContaining('not among the most used passwords') }],
    })
    expect((await bench.access.signIn.withSetUpCode({ ...wish, password })).ok).toBe(true)
  })

  it('ends the code after 24 h', async () => {
    bench = accessBench()
    const wish = { name: 'Ada', password, address, code: bench.setUpCode() }
    bench.clock.advance(24 * 3_600_000)
    expect(await bench.access.signIn.withSetUpCode(wish)).toMatchObject({
      status: 401,
      error: expect.stringContaining('older than 24 h'),
    })
  })

  it('comes again with every start without a user, with a new code each time and the old one over', async () => {
    bench = accessBench()
    const code = bench.setUpCode()
    bench.restart()
    const fresh = bench.setUpCode()
    expect(fresh).not.toBe(code)
    const wish = { name: 'Ada', password, address }
    expect((await bench.access.signIn.withSetUpCode({ ...wish, code })).ok).toBe(false)
    expect((await bench.access.signIn.withSetUpCode({ ...wish, code: fresh })).ok).toBe(true)
    const told = bench.notices.length
    bench.restart()
    expect(bench.notices.length).toBe(told + 1)
    expect(bench.notices.at(-1)).not.toContain('Set-up code')
  })

  it('gives an administrator who cannot get in a new password by a new code', async () => {
    bench = accessBench()
    const old = await bench.person('First', 'administrator')
    bench.restart({ newSetupCode: true })
    const outcome = await bench.access.signIn.withSetUpCode({
      name: 'first',
      code: bench.setUpCode(),
      password,
      address,
    })
    expect(outcome).toMatchObject({ ok: true, value: { person: { name: 'First', role: 'administrator' } } })
    expect(bench.access.actor(requestFrom(address, { token: old }))).toBeUndefined()
    expect(bench.access.administer.list().length).toBe(1)
  })
})

describe('signing in', () => {
  let bench: AccessBench
  beforeEach(async () => {
    bench = accessBench()
    await bench.person('Ada', 'operator')
  })
  afterEach(() => bench.close())

  const enter = (name: string, word: string, from = address) =>
    bench.access.signIn.withPassword({ name, password: word, address: from })

  it('takes name and password, the name however it is written, also after a restart', async () => {
    bench.restart()
    expect(await enter(' aDA ', BENCH_PASSWORD)).toMatchObject({
      ok: true,
      value: { person: { name: 'Ada' } },
    })
  })

  it('answers a wrong password, an unknown name and one without a password with the same words', async () => {
    bench.access.administer.add('Cy', 'viewer')
    const answers = await Promise.all([
      enter('Ada', 'wrong', '192.0.2.11'),
      enter('Nobody', 'wrong', '192.0.2.12'),
      enter('Cy', '', '192.0.2.13'),
    ])
    expect(new Set(answers.map((one) => JSON.stringify(one))).size).toBe(1)
    expect(answers[0]).toMatchObject({ ok: false, status: 401 })
  })

  it('checks no password while somebody has to wait, and takes the right one afterwards', async () => {
    for (let i = 0; i < 4; i++) await enter('Ada', 'wrong')
    expect(await enter('Ada', BENCH_PASSWORD)).toMatchObject({ status: 429, retryAfterS: 1 })
    bench.clock.advance(1000)
    expect((await enter('Ada', BENCH_PASSWORD)).ok).toBe(true)
  })

  it('counts attempts that are made all at once', async () => {
    const all = await Promise.all(Array.from({ length: 12 }, () => enter('Ada', 'wrong')))
    expect(all.map((one) => !one.ok && one.status)).toEqual([401, 401, 401, 401, ...Array(8).fill(429)])
  })

  it('leaves no way in that opened while the password was being reset', async () => {
    const { administer } = bench.access
    const { id } = administer.list().find((one) => one.name === 'Ada')!
    const entering = enter('Ada', BENCH_PASSWORD)
    administer.resetPassword(id)
    expect(await entering).toMatchObject({ ok: false, status: 401 })
  })

  it('lets people change their password, which ends their other sessions', async () => {
    const [one, two] = [await enter('Ada', BENCH_PASSWORD), await enter('Ada', BENCH_PASSWORD)]
    if (!one.ok || !two.ok) throw new Error('not signed in')
    const wish = { current: BENCH_PASSWORD, password, address }
    const wrong = await bench.access.signIn.changePassword(one.value.person, { ...wish, current: 'wrong' })
    expect(wrong).toMatchObject({ status: 401 })
    const changed = await bench.access.signIn.changePassword(one.value.person, wish)
    expect(changed.ok).toBe(true)
    for (const { token } of [one.value, two.value])
      expect(bench.access.actor(requestFrom(address, { token }))).toBeUndefined()
    expect((await enter('Ada', BENCH_PASSWORD)).ok).toBe(false)
    expect((await enter('Ada', password)).ok).toBe(true)
  })
})

describe('a one-time code', () => {
  let bench: AccessBench
  let code: string
  beforeEach(async () => {
    bench = accessBench()
    await bench.person('First', 'administrator')
    const added = bench.access.administer.add('Ada', 'operator')
    if (!added.ok) throw new Error(added.error)
    code = added.value.code
  })
  afterEach(() => bench.close())

  const use = (name = 'Ada', from = address) =>
    bench.access.signIn.withCode({ name, code, password, address: from })

  it('lets its person choose a password, once', async () => {
    expect(await use('First')).toMatchObject({ status: 401 })
    expect(await use()).toMatchObject({ ok: true, value: { person: { name: 'Ada', role: 'operator' } } })
    expect(await use()).toMatchObject({ status: 401 })
  })

  it('is taken although others guess at the name and at the address', async () => {
    for (let i = 0; i < 30; i++)
      await bench.access.signIn.withPassword({ name: 'Ada', password: 'wrong', address })
    expect((await use()).ok).toBe(true)
  })

  it('holds across a restart, and for three days', async () => {
    bench.restart()
    bench.clock.advance(CODE_LIFETIME_MS - 1)
    expect((await use()).ok).toBe(true)
  })

  it('is too old after three days', async () => {
    bench.clock.advance(CODE_LIFETIME_MS)
    expect(await use()).toMatchObject({ status: 401 })
  })
})

describe('administering users', () => {
  let bench: AccessBench
  beforeEach(async () => {
    bench = accessBench()
    await bench.person('First', 'administrator')
  })
  afterEach(() => bench.close())

  const idOf = (name: string) => bench.access.administer.list().find((one) => one.name === name)!.id

  it('never takes the last administrator away who can sign in', async () => {
    const { administer } = bench.access
    administer.add('Second', 'administrator')
    const id = idOf('First')
    for (const outcome of [
      administer.remove(id),
      administer.changeRole(id, 'viewer'),
      administer.resetPassword(id),
    ])
      expect(outcome).toMatchObject({ ok: false, status: 409, error: expect.stringContaining('last') })
    await bench.person('Third', 'administrator')
    expect(administer.changeRole(id, 'viewer').ok).toBe(true)
    expect(administer.remove(id).ok).toBe(true)
  })

  it('changes a right at once, in sessions that go on', async () => {
    const token = await bench.person('Ada', 'viewer')
    const request = requestFrom(address, { token })
    expect(bench.access.may(request, 'acknowledge')).toBe(false)
    bench.access.administer.changeRole(idOf('Ada'), 'operator')
    expect(bench.access.may(request, 'acknowledge')).toBe(true)
  })

  it('ends every session of a person who is removed, and lets the name be used again', async () => {
    const token = await bench.person('Ada', 'operator')
    bench.access.administer.remove(idOf('Ada'))
    expect(bench.access.actor(requestFrom(address, { token }))).toBeUndefined()
    expect(bench.access.administer.add('Ada', 'viewer').ok).toBe(true)
    bench.restart()
    expect(bench.access.actor(requestFrom(address, { token }))).toBeUndefined()
  })

  it('takes no name twice, however it is written', () => {
    expect(bench.access.administer.add(' FIRST', 'viewer')).toMatchObject({ status: 409 })
  })

  it('changes nothing that the disk refuses', () => {
    bench.state.database.exec('ALTER TABLE person RENAME TO away')
    expect(bench.access.administer.add('Ada', 'viewer')).toMatchObject({ status: 503 })
    expect(bench.access.administer.remove(idOf('First')).ok).toBe(false)
    expect(bench.access.administer.list().map((one) => one.name)).toEqual(['First'])
    bench.state.database.exec('ALTER TABLE away RENAME TO person')
  })
})
