import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { root } from '../support/root.ts'

/**
 * Levels of the requirements of OWASP ASVS 5.0.0: by chapter, a text for each section, a digit for each requirement.
 * Source: github.com/OWASP/ASVS, 5.0/docs_en, the list as CSV of version 5.0.0 (345 requirements: 70, 183 and 92 of the levels 1, 2, 3).
 */
const LEVELS: Record<string, readonly string[]> = {
  V1: ['22', '1111122223', '112222222223', '222', '123'],
  V2: ['122', '112', '12223', '23'],
  V3: ['3', '113', '12223', '11222233', '11122333', '3', '22333'],
  V4: ['12233', '23333', '22', '1222'],
  V5: ['2', '112333', '113', '222'],
  V6: ['122', '111111112222', '11223333', '112233', '22222333', '2223', '33', '2222'],
  V7: ['222', '1111', '22', '11222', '223', '22'],
  V8: ['1233', '1123', '133', '23'],
  V9: ['111', '1222'],
  V10: ['22', '223', '22223', '1111122222233333', '22222', '22', '222'],
  V11: ['2233', '22233', '11233', '1222', '23', '23', '33'],
  V12: ['12233', '11', '22223'],
  V13: ['2333', '222223', '2233', '1222233'],
  V14: ['22', '12223333', '122'],
  V15: ['12233', '12233', '1222222', '3333'],
  V16: ['2', '22222', '2222', '222', '2223'],
  V17: ['23', '22223333', '22'],
}

const WANTED = Object.entries(LEVELS).flatMap(([chapter, sections]) =>
  sections.flatMap((levels, section) =>
    [...levels].map((level, i) => ({ id: `${chapter}.${section + 1}.${i + 1}`, level: Number(level) })),
  ),
)

const STATES = ['tested', 'documented', 'n/a', 'open']
const page = readFileSync(join(root, 'test/security/asvs.md'), 'utf8')
const rows = page
  .split('\n')
  .filter((line) => line.startsWith('| V'))
  .map((line) => {
    const [ids, level, what, state, where] = line
      .split('|')
      .slice(1, -1)
      .map((cell) => cell.trim())
    return { ids: ids!.split(', '), level: level!, what: what!, state: state!, where: where! }
  })

describe('the table of what OWASP ASVS 5.0.0 asks for', () => {
  it('has the numbers of requirements that the standard has', () => {
    const of = (level: number) => WANTED.filter((one) => one.level === level).length
    expect([of(1), of(2), of(3)]).toEqual([70, 183, 92])
  })

  it('has each requirement of level 1 and 2 once, and no other', () => {
    const wanted = WANTED.filter(({ level }) => level <= 2).map(({ id }) => id)
    expect(rows.flatMap(({ ids }) => ids).sort()).toEqual(wanted.sort())
  })

  it('gives each the level that it has', () => {
    const levelOf = new Map(WANTED.map(({ id, level }) => [id, level]))
    for (const { ids, level } of rows)
      expect([...new Set(ids.map((id) => levelOf.get(id)))].sort().join('/'), ids.join()).toBe(level)
  })

  it('says of each what it is, and of what is tested by which files, which are there', () => {
    for (const { ids, what, state, where } of rows) {
      expect(STATES, ids.join()).toContain(state)
      expect(what.length * where.length, ids.join()).toBeGreaterThan(0)
      const files = [...where.matchAll(/test\/[\w./-]+\.(?:ts|md)/g)].map(([file]) => file)
      if (state === 'tested') expect(files.length, ids.join()).toBeGreaterThan(0)
      for (const file of files) expect(existsSync(join(root, file)), file).toBe(true)
    }
  })

  it('counts right what it says of itself', () => {
    const count = (state: string) =>
      rows.filter((row) => row.state === state).reduce((sum, { ids }) => sum + ids.length, 0)
    const [tested, documented, absent, open] = STATES.map(count)
    expect(page).toContain(
      `Of 253 requirements: ${tested} tested, ${documented} documented, ${absent} n/a, ${open} open.`,
    )
  })
})
