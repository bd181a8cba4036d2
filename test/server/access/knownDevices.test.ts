import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { Busy } from '../../../server/turns.ts'
import { type AccessBench, accessBench, BENCH_PASSWORD } from '../../support/accessBench.ts'

const address = '192.0.2.1'

describe('a browser in which somebody signed in before', () => {
  let bench: AccessBench
  let device: string
  beforeEach(async () => {
    bench = accessBench()
    await bench.person('Ada', 'operator')
    device = await deviceOf(await enter(undefined))
  })
  afterEach(() => bench.close())

  const enter = (kept: string | undefined, word = BENCH_PASSWORD, from = address) =>
    bench.access.signIn.withPassword({ name: 'Ada', password: word, address: from, device: kept })

  function deviceOf(outcome: Awaited<ReturnType<typeof enter>>): string {
    if (!outcome.ok) throw new Error(outcome.error)
    return outcome.value.device
  }

  /** From so many addresses that the name is slowed down everywhere. */
  async function guessEverywhere() {
    for (let i = 0; i < 30; i++) await enter(undefined, 'wrong', `198.51.100.${i}`)
  }

  it('lets in while others guess at the name from many addresses, also after a restart', async () => {
    bench.restart()
    await guessEverywhere()
    expect(await enter(undefined)).toMatchObject({ ok: false, status: 429 })
    expect((await enter(device)).ok).toBe(true)
  })

  it('lets in while others at its address try many names', async () => {
    const { signIn } = bench.access
    for (let i = 0; i < 20; i++) await signIn.withPassword({ name: `n${i}`, password: 'x', address })
    expect(await enter(undefined)).toMatchObject({ status: 429 })
    expect((await enter(device)).ok).toBe(true)
  })

  it('lets in while twenty wrong passwords of strangers wait to be checked', async () => {
    const strangers = Array.from({ length: 20 }, (_, i) =>
      enter(undefined, 'wrong', `198.51.100.${i}`).catch((error: unknown) => error),
    )
    expect((await enter(device)).ok).toBe(true)
    const outcomes = await Promise.all(strangers)
    expect(outcomes.filter((one) => one instanceof Busy).length).toBe(4)
  })

  it('is slowed down by its own failures, and then no other browser of the person', async () => {
    const other = deviceOf(await enter(undefined))
    for (let i = 0; i < 6; i++) await enter(device, 'wrong')
    expect(await enter(device)).toMatchObject({ status: 429, retryAfterS: 1 })
    expect((await enter(other)).ok).toBe(true)
  })

  it('is known to nobody else, and of its secret only a hash is stored', async () => {
    await bench.person('Ben', 'operator')
    const wish = { name: 'Ben', password: 'wrong', address, device }
    for (let i = 0; i < 4; i++) await bench.access.signIn.withPassword(wish)
    expect(await bench.access.signIn.withPassword(wish)).toMatchObject({ status: 429 })
    const rows = JSON.stringify(bench.state.database.prepare('SELECT * FROM device').all())
    expect(rows).not.toContain(device)
  })

  it('is known to all who share it', async () => {
    await bench.person('Ben', 'operator')
    const ben = { name: 'Ben', password: BENCH_PASSWORD, address }
    const both = deviceOf(await bench.access.signIn.withPassword({ ...ben, device }))
    await guessEverywhere()
    expect((await enter(both)).ok).toBe(true)
  })

  it('is no longer known once an administrator has reset the password', async () => {
    const { administer } = bench.access
    const { id } = administer.list().find((one) => one.name === 'Ada')!
    const reset = administer.resetPassword(id)
    if (!reset.ok) throw new Error(reset.error)
    const wish = { name: 'Ada', code: reset.value.code, password: BENCH_PASSWORD, address }
    await bench.access.signIn.withCode(wish)
    await guessEverywhere()
    expect(await enter(device)).toMatchObject({ status: 429 })
  })

  it('is forgotten when the person has signed in with twenty others since', async () => {
    for (let i = 0; i < 20; i++) {
      bench.clock.advance(1000)
      await enter(undefined)
    }
    const { n } = bench.state.database.prepare('SELECT count(*) AS n FROM device').get() as { n: number }
    expect(n).toBeLessThanOrEqual(21)
    await guessEverywhere()
    expect(await enter(device)).toMatchObject({ status: 429 })
  })
})
