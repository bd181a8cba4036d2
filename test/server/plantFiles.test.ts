import { afterAll, describe, expect, it } from 'vitest'
import { describeCheck, readPlantFiles } from '../../server/plantFiles.ts'
import { THREE_SENSORS } from '../support/plants.ts'
import { scratchFolder } from '../support/scratch.ts'

const folder = scratchFolder()
afterAll(folder.remove)

function read(text: string) {
  const file = folder.file('mill.yaml', text)
  return { file, result: readPlantFiles([file]) }
}

const complaintsOf = (text: string) => {
  const { file, result } = read(text)
  return 'complaints' in result ? result.complaints.map((one) => one.replace(`${file}:`, '')) : []
}
const lineOf = (text: string, part: string) => text.split('\n').findIndex((line) => line.includes(part)) + 1

describe('readPlantFiles', () => {
  it('tells a fault of an own figure by line and path, with what came and what was expected', () => {
    const text = `${THREE_SENSORS}figures:\n  - id: mine\n    name: Mine\n    unit: W\n    formula: discharge * 2\n`
    expect(complaintsOf(text)).toEqual([
      `${lineOf(text, 'formula: discharge')}: figures[0].formula: found "discharge * 2", which gives m^3·s^-1, ` +
        'expected m^2·kg·s^-3, as its unit W says',
    ])
  })

  it('tells a fault of an alarm by line as well', () => {
    const text = `${THREE_SENSORS}alarms:\n  - { id: low, name: Low, kind: low, figure: netHead,\n      limit: 3 bar, priority: low }\n`
    expect(complaintsOf(text)[0]).toMatch(
      new RegExp(`^${lineOf(text, 'limit: 3 bar')}: alarms\\[0\\].limit: found "3 bar"`),
    )
  })

  it.each([
    [
      'a formula that is too long',
      `formula: "${'1 + '.repeat(125)}1"`,
      /figures\[0\]\.formula.*500 characters/,
    ],
    ['an unknown key', 'formula: "1", colour: red', /figures\[0\]\.colour.*no such key/],
    ['an unknown group', 'formula: "1", group: fun', /figures\[0\]\.group/],
  ])('refuses %s', (_what, more, complaint) => {
    expect(complaintsOf(`${THREE_SENSORS}figures: [{ id: a, name: A, unit: "1", ${more} }]\n`)[0]).toMatch(
      complaint,
    )
  })

  it.each([
    ['an alias without its anchor', THREE_SENSORS.replace('name: Test mill', 'name: *mill'), /mill/],
    [
      'aliases that grow without end',
      `a: &a [x, x, x, x, x, x, x, x, x]\nb: &b [*a, *a, *a, *a, *a, *a, *a, *a]\nc: &c [*b, *b, *b, *b, *b, *b, *b, *b]\nd: [*c, *c, *c, *c, *c]\n`,
      /alias/i,
    ],
    [
      'an instrument with the name of what every object has',
      THREE_SENSORS.replace('id: gauge', 'id: constructor'),
      undefined,
    ],
    ['a role of that name', THREE_SENSORS.replace('role: inletPressure', 'role: toString'), /role/],
    [
      'a file of keys alone',
      Array.from({ length: 13_000 }, (_, i) => `k${i}:`).join('\n'),
      /headrace: found nothing/,
    ],
    [
      'a file that is far too long',
      Array.from({ length: 50_000 }, (_, i) => `k${i}:`).join('\n'),
      /100000 characters/,
    ],
    ['a list', '- 1\n- 2\n', /found a list, expected a YAML mapping/],
    ['an empty file', '', /found nothing/],
    ['a key that comes twice', `${THREE_SENSORS}name: Other\n`, /"name" twice/],
  ])('says what is wrong with %s, and never throws', (_what, text, complaint) => {
    if (complaint) expect(complaintsOf(text)[0]).toMatch(complaint)
    else expect(complaintsOf(text)).toEqual([])
  })

  it('names fifty faults of very many, and says how many more there are', () => {
    const wrong = Array.from({ length: 5000 }, (_, i) => `  k${i}: x`).join('\n')
    const complaints = complaintsOf(`${THREE_SENSORS}relations:\n${wrong}\n`)
    expect(complaints.length).toBeLessThanOrEqual(51)
    expect(complaints.at(-1)).toMatch(/found \d+ further faults/)
  })

  it('refuses more than a hundred own figures, and an id that comes twice', () => {
    const figures = (ids: string[]) =>
      `${THREE_SENSORS}figures:\n${ids.map((id) => `  - { id: ${id}, name: A, unit: "1", formula: "1" }\n`).join('')}`
    expect(complaintsOf(figures(Array.from({ length: 101 }, (_, i) => `a${i}`)))[0]).toMatch(/figures/)
    expect(complaintsOf(figures(['a', 'a']))[0]).toMatch(/figures\[1\]\.id: found "a" again/)
  })
})

describe('describeCheck', () => {
  it('lists own figures with their formula among those that are derived', () => {
    const { result } = read(
      `${THREE_SENSORS}figures: [{ id: twice, name: Twice, unit: kW, formula: 2 * activePower }]\n`,
    )
    const plants = 'plants' in result ? result.plants : []
    expect(describeCheck(plants[0]!)).toMatch(/twice \[W\] = 2 \* activePower \(own\)/)
  })
})
