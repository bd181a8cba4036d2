import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { runTarget } from './runTarget.ts'
import { demand, opened } from './target.ts'
import { TARGETS } from './targets/index.ts'

/** A few thousand of the cases of `npm run test:fuzz`, always the same ones. */
const CASES = 4000
const SEED = 20_261_127

// What is demanded are rules of the house (DEVELOPERS.md): bad data is a value with a sentence; no outside source.
describe('what strangers send', () => {
  it('is divided among all that takes it', () => {
    expect(TARGETS.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9)
  })

  it.each(TARGETS.map((target) => [target.name, target] as const))(
    'does no harm to: %s',
    async (_, target) => {
      const { fault } = await runTarget(target, {
        cases: Math.ceil(target.share * CASES),
        seed: SEED,
        limitMs: 50_000,
      })
      expect(fault, fault).toBeUndefined()
    },
  )
})

describe('a run of cases', () => {
  const faultOf = async (run: (one: number) => void) => {
    const target = { name: 'own', share: 1, open: () => opened<number>({ cases: fc.nat(100), run }) }
    return (await runTarget(target, { cases: 300, seed: 7, limitMs: 50_000 })).fault
  }

  it('ends with the smallest case that throws, and says how to repeat it', async () => {
    const fault = await faultOf((one) => demand(one < 40, () => 'too much'))
    expect(fault).toMatch(/too much/)
    expect(fault).toMatch(/smallest case: 40\n/)
    expect(fault).toMatch(/--target own --seed 7 --path [\d:]+/)
  })

  it('finds a case that holds the thread up', async () => {
    const burn = (one: number) => {
      const began = process.cpuUsage()
      while (one === 13 && process.cpuUsage(began).user < 80_000);
    }
    expect(await faultOf(burn)).toMatch(/it took \d+ ms of CPU, expected at most 50/)
  })

  it('finds a prototype that was changed', async () => {
    const prototype = Object.prototype as unknown as Record<string, unknown>
    const fault = await faultOf(() => Object.assign(prototype, { polluted: 1 }))
    delete prototype['polluted']
    expect(fault).toMatch(/a prototype of the language was changed/)
  })
})
