import { basename } from 'node:path'
import { describe, expect, it } from 'vitest'
import { readSources } from './sourceTree.ts'

const LONGEST_MAIN = 120
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

  it('name files after what is in them', () => {
    const name = (path: string) => basename(path).replace(/\.tsx?$/, '')
    expect(
      paths((file) => NAMES_THAT_SAY_NOTHING.test(name(file.path)) || /[-_]/.test(name(file.path))),
    ).toEqual([])
  })
})
