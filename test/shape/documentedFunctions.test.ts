import { describe, expect, it } from 'vitest'
import { readSources } from './sourceTree.ts'

/** Style habit 6: documentation is checked by machine. Text only, for the compiler offers no interface to its tree. */

interface Documented {
  file: string
  name: string
  parameters: string[]
  block: string
}

const FOLDERS = /^server\/(?:physics|statistics)\/(?!index\.ts)/
const DECLARATION = /((?:\/\*\*(?:(?!\*\/)[\s\S])*\*\/\n)?)^export function (\w+)(?:<[^>]*>)?\(/gm

/** The text between the parenthesis at `open` and the one that closes it. */
function argumentText(source: string, open: number): string {
  let depth = 0
  for (let i = open; i < source.length; i++) {
    if ('([{'.includes(source[i]!)) depth += 1
    if (')]}'.includes(source[i]!)) depth -= 1
    if (depth === 0) return source.slice(open + 1, i)
  }
  throw new Error('unclosed parenthesis')
}

/** Names before the colons at the outer level; a destructured parameter is named by the type it carries. */
function parameterNames(text: string): string[] {
  const parts: string[] = []
  let depth = 0
  let part = ''
  for (const letter of text) {
    if ('([{<'.includes(letter)) depth += 1
    if (')]}>'.includes(letter)) depth -= 1
    if (letter === ',' && depth === 0) {
      parts.push(part)
      part = ''
    } else part += letter
  }
  return [...parts, part]
    .map((one) => one.trim().match(/^(\w+)/)?.[1])
    .filter((name): name is string => name !== undefined)
}

function documentedIn(file: string, source: string): Documented[] {
  return [...source.matchAll(DECLARATION)].map((match) => ({
    file,
    name: match[2]!,
    parameters: parameterNames(argumentText(source, match.index + match[0].length - 1)),
    block: match[1]!,
  }))
}

const functions = readSources()
  .filter(({ path }) => FOLDERS.test(path))
  .flatMap(({ path, text }) => documentedIn(path, text))

/** What the block of one function lacks, as sentences. */
function faults({ name, parameters, block }: Documented): string[] {
  if (block === '') return [`${name} has no doc block`]
  const named = [...block.matchAll(/@param (\w+)/g)].map((match) => match[1]!)
  return [
    ...parameters.filter((one) => !named.includes(one)).map((one) => `${name} does not explain "${one}"`),
    ...named
      .filter((one) => !parameters.includes(one))
      .map((one) => `${name} explains "${one}", which it lacks`),
    ...(/^ \* Source: \S/m.test(block) ? [] : [`${name} names no source`]),
  ]
}

describe('documentation of pure functions', () => {
  it('is looked at in more than fifty functions (guards the tests below against an empty list)', () => {
    expect(functions.length).toBeGreaterThan(50)
  })

  it.each(functions.map((one) => [one.name, one.file, one] as const))(
    'of %s in %s names every parameter and a source (style habits 5 and 6)',
    (_, __, one) => {
      expect(faults(one)).toEqual([])
    },
  )

  it('is really checked: the check finds a wrong name, a missing source and a missing block', () => {
    const text =
      '/**\n * Sum.\n * @param a One.\n * @param c Two.\n */\nexport function add(\n  a: number,\n  b: Map<string, number>,\n) {}\nexport function bare() {}\n'
    expect(documentedIn('x.ts', text).flatMap(faults)).toEqual([
      'add does not explain "b"',
      'add explains "c", which it lacks',
      'add names no source',
      'bare has no doc block',
    ])
  })
})
