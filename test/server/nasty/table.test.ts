import { beforeAll, describe, expect, it } from 'vitest'
import { playRows, type Said } from './play.ts'
import type { FigureSaying, NastyRow, Saying } from './row.ts'
import { rows } from './rows/index.ts'

/**
 * What Headrace says of bad input, over MQTT, row by row; to be read in `rows/`. The rule of the house that nothing untrue is
 * ever called good has no outside source; every row is held against a second plant that is told the truth.
 */
describe('Headrace, when', () => {
  let said: Map<NastyRow, Said>
  beforeAll(async () => {
    const all = await playRows(rows)
    said = new Map(rows.map((row, i) => [row, all[i]!]))
  }, 150_000)

  it.each(rows.map((row) => [row.when, row] as const))('%s, says nothing untrue', (_when, row) => {
    const answer = said.get(row)!
    expect(answer.untrue).toEqual([])
    expectSaid(answer, row.says)
  })
})

function expectSaid(answer: Said, says: Saying): void {
  const { figures = {}, alarms = {}, counters = {}, journal = [], faults = 0 } = says
  for (const [id, saying] of Object.entries(figures)) expectFigure(answer, id, saying)
  for (const [id, words] of Object.entries(alarms)) expect([id, answer.alarms[id]]).toEqual([id, words])
  expect(answer.journal).toEqual(journal)
  for (const [id, { counted, gap }] of Object.entries(counters)) {
    const found = answer.counters[id]!
    if (counted !== undefined) expectNear(found.counted, counted, id)
    if (gap !== undefined) expectNear(found.gap, gap, `gap of ${id}`)
  }
  if (says.bad)
    expect(Object.keys(answer.figures).filter((id) => answer.figures[id]!.quality === 'bad')).toEqual(
      says.bad,
    )
  if (says.state !== undefined) expect(answer.state).toBe(says.state)
  if (says.sentence) expect(answer.sentence).toMatch(says.sentence)
  expect(answer.faults).toBe(faults)
}

function expectFigure(answer: Said, id: string, { quality, value, within, reason }: FigureSaying): void {
  const found = answer.figures[id]
  if (!found) throw new Error(`no figure ${id}`)
  const told = `${id}: ${JSON.stringify(found)}`
  if (quality) expect(found.quality, told).toBe(quality)
  if (value === null) expect(found.value, told).toBeNull()
  if (typeof value === 'number') expectNear(found.value ?? Number.NaN, value, told)
  if (within !== undefined) expect(found.u95, told).toBeLessThanOrEqual(within)
  if (reason) expect(found.reasons.join('; '), told).toMatch(reason)
}

/** To one part in a thousand: more digits are not written in the rows. */
function expectNear(found: number, expected: number, told: string): void {
  expect(Math.abs(found - expected), `${told}: ${found}, expected ${expected}`).toBeLessThanOrEqual(
    1e-3 * Math.abs(expected),
  )
}
