import { scryptSync } from 'node:crypto'
import { describe, expect, it } from 'vitest'
import { createPasswords, type Derive, passwordFault } from '../../../server/access/passwords.ts'
import { Busy } from '../../../server/turns.ts'

const CHEAP = { N: 2, r: 1, p: 1 }

/** Counts what is computed, and at what cost. */
function counting() {
  const costs: object[] = []
  const derive: Derive = async (password, salt, cost) => {
    costs.push(cost)
    return scryptSync(password, salt, 32, cost)
  }
  return { costs, derive }
}

describe('createPasswords', () => {
  it('finds a password right that it has hashed, and another wrong', async () => {
    const passwords = createPasswords(CHEAP)
    const stored = await passwords.hash('turn the water on')
    expect(await passwords.matches('turn the water on', stored)).toBe(true)
    expect(await passwords.matches('turn the water off', stored)).toBe(false)
  })

  it('computes the key of RFC 7914, section 12, third vector', async () => {
    // scrypt("pleaseletmein", "SodiumChloride", N=16384, r=8, p=1), first 32 of its 64 bytes; PBKDF2 output
    // is a prefix of the longer one.
    const key = '7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2'
    const inText = (text: string, encoding: BufferEncoding) =>
      Buffer.from(text, encoding).toString('base64url')
    const stored = `scrypt:16384:8:1:${inText('SodiumChloride', 'utf8')}:${inText(key, 'hex')}`
    expect(await createPasswords(CHEAP).matches('pleaseletmein', stored)).toBe(true)
  })

  it('never stores the same text twice for one password', async () => {
    const passwords = createPasswords(CHEAP)
    expect(await passwords.hash('turn the water on')).not.toBe(await passwords.hash('turn the water on'))
  })

  it('does the same work for somebody who is not there as for a wrong password', async () => {
    const { costs, derive } = counting()
    const passwords = createPasswords(CHEAP, derive)
    const stored = await passwords.hash('turn the water on')
    costs.length = 0
    expect(await passwords.matches('wrong', stored)).toBe(false)
    expect(await passwords.matches('wrong', null)).toBe(false)
    expect(costs).toEqual([CHEAP, CHEAP])
  })

  it('checks one at a time, and refuses when sixteen are waiting behind it', async () => {
    let running = 0
    let most = 0
    const passwords = createPasswords(CHEAP, async () => {
      running++
      most = Math.max(most, running)
      await Promise.resolve()
      running--
      return Buffer.alloc(32)
    })
    const all = Array.from({ length: 18 }, () => passwords.hash('turn the water on'))
    await expect(all[17]).rejects.toThrow(Busy)
    await Promise.all(all.slice(0, 17))
    expect(most).toBe(1)
    expect(passwords.queue()).toMatchObject({ limit: 16, dropped: 1 })
    await passwords.hash('there is room again')
    expect(passwords.queue().length).toBeLessThanOrEqual(1)
  })

  it('knows a hash that was made at another cost', async () => {
    const stored = await createPasswords(CHEAP).hash('turn the water on')
    expect(createPasswords(CHEAP).isCurrent(stored)).toBe(true)
    expect(createPasswords({ N: 4, r: 1, p: 1 }).isCurrent(stored)).toBe(false)
  })

  it('takes letters for the same however they are composed', async () => {
    const passwords = createPasswords(CHEAP)
    expect(await passwords.matches('cafe\u0301 au moulin', await passwords.hash('caf\u00e9 au moulin'))).toBe(
      true,
    )
  })
})

describe('passwordFault', () => {
  it.each([
    ['elevenchars', 'at least 12 characters'],
    ['ab'.repeat(10), 'at least 5 different characters'],
    ['x1y2z'.repeat(60), 'at most 256 characters'],
    ['my name is ADA lovelace', 'one that does not contain the name'],
  ])('wants of %j %s', (password, expected) => {
    expect(passwordFault(password, 'Ada')).toBe(expected)
  })

  it('has nothing against a long sentence', () => {
    expect(passwordFault('turn the water on', 'Ada')).toBeUndefined()
  })
})
