import { describe, expect, it } from 'vitest'
import type { Questions } from '../../../server/channel/questions.ts'
import type { Verdict } from '../../../server/derive/verdict.ts'
import { createVerdictWatch } from '../../../server/mirror/verdictWatch.ts'
import type { AgreementReply, AgreementSuspect } from '../../../server/wire/agreement.ts'

const suspect = (id: string, kind: AgreementSuspect['kind'] = 'instrument'): AgreementSuspect => ({
  kind,
  id,
  name: id,
  says: 'reads about 3 % high',
})

/** What is told when the comparisons say this, look by look. */
function told(looks: readonly (readonly AgreementSuspect[] | 'notJudged')[], before?: Verdict) {
  const asked: Questions['verdict']['asked'][] = []
  let reply: Partial<AgreementReply> = {}
  let verdict = before
  const watch = createVerdictWatch({
    plants: () =>
      new Map([['mill', { agreement: { reply: () => reply as AgreementReply }, verdict: () => verdict }]]),
    ask: async (_question, one) => {
      const wish = one as Questions['verdict']['asked']
      asked.push(wish)
      verdict = wish.verdict ?? undefined
      return { ok: true, reply: null } as never
    },
  })
  looks.forEach((look, i) => {
    reply =
      look === 'notJudged'
        ? { state: 'notJudged', suspects: [] }
        : { state: look.length > 0 ? 'suspect' : 'agrees', suspects: [...look], sentence: 'It reads high.' }
    watch.look(i * 5000)
  })
  return asked.map(({ verdict: one }) => one && { instruments: one.instruments, since: one.since })
}

const TORQUE = [suspect('torque')]

describe('what the watch is told of suspected instruments', () => {
  it('is nothing while all agree, or for one look alone', () => {
    expect(told([[], [], TORQUE, [], [], [], []])).toEqual([])
  })

  it('is who is suspected, once, with the moment', () => {
    expect(told([[], TORQUE, TORQUE, TORQUE, TORQUE])).toEqual([{ instruments: ['torque'], since: 10_000 }])
  })

  it('names all that cannot be told apart, in one order, and takes no assumption for an instrument', () => {
    const both = [suspect('torque'), suspect('flow, level', 'swapped'), suspect('runner', 'relation')]
    expect(told([both, both.toReversed()])).toEqual([
      { instruments: ['flow', 'level', 'torque'], since: 5000 },
    ])
  })

  it('is taken back only when all have agreed for four looks', () => {
    expect(told([TORQUE, TORQUE, [], [], [], [], []])).toEqual([
      { instruments: ['torque'], since: 5000 },
      null,
    ])
    expect(told([TORQUE, TORQUE, [], [], [], TORQUE])).toHaveLength(1)
  })

  it('stands while nothing can be compared', () => {
    expect(
      told([TORQUE, TORQUE, 'notJudged', 'notJudged', 'notJudged', 'notJudged', 'notJudged']),
    ).toHaveLength(1)
  })

  it('is not told anew by a page side that begins while it stands', () => {
    const before = { instruments: ['torque'], sentence: 'It reads high.', since: 1 }
    expect(told([TORQUE, TORQUE, TORQUE], before)).toEqual([])
    expect(told([[], [], [], []], before)).toEqual([null])
  })
})
