import { describe, expect, it } from 'vitest'
import { childrenOf, type Node, readSources, syntaxTree } from './sourceTree.ts'

/** Documentation is checked by machine. */

interface Documented {
  file: string
  name: string
  parameters: string[]
  block: string
}

interface ExportStatement extends Node {
  declaration: null | (Node & { id: { name: string }; params: { name?: string; left?: { name?: string } }[] })
}

const FOLDERS = /^server\/(?:physics|statistics)\/(?!index\.ts)/
const DOC_BLOCK = /\/\*\*(?:(?!\*\/)[\s\S])*\*\/\n$/

/** Exported functions with the block before them. A destructured parameter has no name to explain. */
function documentedIn(file: string, text: string): Documented[] {
  return childrenOf(syntaxTree({ path: file, text })).flatMap((statement) => {
    const declared = (statement as ExportStatement).declaration
    if (statement.type !== 'ExportNamedDeclaration' || declared?.type !== 'FunctionDeclaration') return []
    const parameters = declared.params.flatMap(({ name, left }) => name ?? left?.name ?? [])
    const block = DOC_BLOCK.exec(text.slice(0, statement.start))?.[0] ?? ''
    return [{ file, name: declared.id.name, parameters, block }]
  })
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
