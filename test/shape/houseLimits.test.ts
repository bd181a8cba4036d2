import { basename } from 'node:path'
import { describe, expect, it } from 'vitest'
import { readSources } from './sourceTree.ts'

const LONGEST_FILE = 300
const LONGEST_MAIN = 120
const NAMES_THAT_SAY_NOTHING = /^(?:utils?|helpers?|manager|common|misc)\b|(?:Utils?|Helpers?|Manager)\b/
/** `any` as a type: after ":", "<", "as" and the like, not as a word in a text. */
const ANY = /(?:[:<|&]\s*|\bas\s+|\bextends\s+)any\b/

const sources = readSources()
const paths = (isAtFault: (file: (typeof sources)[number]) => boolean) =>
  sources.filter(isAtFault).map((file) => file.path)
const lines = (text: string) => text.trimEnd().split('\n').length
const strings = /'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`/g

describe('the limits of the house', () => {
  it(`keep every file to ${LONGEST_FILE} lines`, () => {
    expect(paths((file) => lines(file.text) > LONGEST_FILE)).toEqual([])
  })

  it(`keep the composition roots to ${LONGEST_MAIN} lines`, () => {
    const roots = /^(?:server|web|simulator)\/main\.tsx?$/
    expect(paths((file) => roots.test(file.path) && lines(file.text) > LONGEST_MAIN)).toEqual([])
  })

  it('allow named exports only', () => {
    expect(paths((file) => /^\s*export\s+(?:default\b|\*)/m.test(file.code))).toEqual([])
  })

  it('allow no any', () => {
    expect(paths((file) => ANY.test(file.code.replace(strings, "''")))).toEqual([])
  })

  it('name files after what is in them', () => {
    const name = (path: string) => basename(path).replace(/\.tsx?$/, '')
    expect(
      paths((file) => NAMES_THAT_SAY_NOTHING.test(name(file.path)) || /[-_]/.test(name(file.path))),
    ).toEqual([])
  })

  it('allow no test that is skipped or that keeps the others from running', () => {
    const marks = /\b(?:it|test|describe)\.(?:skip|only|todo)\b/
    expect(
      paths((file) => file.path.startsWith('test/') && marks.test(file.code.replace(strings, "''"))),
    ).toEqual([])
  })
})
