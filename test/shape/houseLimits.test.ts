import { basename } from 'node:path'
import { describe, expect, it } from 'vitest'
import { functionLines } from './ownLines.ts'
import { readSources } from './sourceTree.ts'

const LONGEST_FUNCTION = 45
const LONGEST_MAIN = 120
/** What the page is built from. */
const PAGE = /^(?:web|server\/wire)\//
const NAMES_THAT_SAY_NOTHING = /^(?:utils?|helpers?|manager|common|misc)\b|(?:Utils?|Helpers?|Manager)\b/
const sources = readSources()
const paths = (isAtFault: (file: (typeof sources)[number]) => boolean) =>
  sources.filter(isAtFault).map((file) => file.path)
const lines = (text: string) => text.trimEnd().split('\n').length

describe('the limits of the house', () => {
  it(`keep the composition roots to ${LONGEST_MAIN} lines`, () => {
    const roots = /^(?:server|web|simulator)\/main\.tsx?$/
    expect(paths((file) => roots.test(file.path) && lines(file.text) > LONGEST_MAIN)).toEqual([])
  })

  it(`keep every function to ${LONGEST_FUNCTION} lines that are not lines of functions inside it`, () => {
    // the functions of tests hold tables of values
    const product = sources.filter((file) => !file.path.startsWith('test/'))
    const long = product.flatMap(functionLines).filter((one) => one.ownLines > LONGEST_FUNCTION)
    expect(long).toEqual([])
  })

  it('let no two files of the page differ in .ts and .tsx only', () => {
    const names = paths((file) => PAGE.test(file.path)).map((path) => basename(path))
    expect(names.filter((name) => name.endsWith('x') && names.includes(name.slice(0, -1)))).toEqual([])
  })

  it('name files after what is in them', () => {
    const name = (path: string) => basename(path).replace(/\.tsx?$/, '')
    expect(
      paths((file) => NAMES_THAT_SAY_NOTHING.test(name(file.path)) || /[-_]/.test(name(file.path))),
    ).toEqual([])
  })
})

describe('the lines of a function', () => {
  it('are those on which no function inside it stands', () => {
    const text = 'function a() {\n  const b = () => {\n    return 1\n  }\n  return b\n}\n'
    expect(functionLines({ path: 'x.ts', text })).toEqual([
      { place: 'x.ts:2', ownLines: 3 },
      { place: 'x.ts:1', ownLines: 3 },
    ])
  })
})
