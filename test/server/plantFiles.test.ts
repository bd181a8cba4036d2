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

describe('the faults of all layers', () => {
  const MANY = THREE_SENSORS.replace('inletBore: 100 mm', 'inletBore: 100')
    .replace('role: inletPressure', 'role: penstockPressure')
    .replace('unit: L/s', 'unit: furlong')
    .replace('topic: mill/power', 'topic: mill/#')
    .concat(
      'figures:\n',
      '  - { id: mine, name: Mine, unit: W, formula: waterTemperature * 2 }\n',
      '  - { id: theirs, name: Theirs, unit: W, formula: 2 * mine }\n',
      'alarms:\n',
      '  - { id: a1, name: A, kind: high, figure: activePower, limit: 3 bar, priority: low }\n',
      '  - { id: a2, name: A, kind: high, figure: penstockPressure, limit: 3 bar, priority: low }\n',
      '  - { id: a3, name: A, kind: high, figure: netHead, limit: 3 m, priority: low }\n',
      '  - { id: a4, name: A, kind: high, figure: mine, limit: 3 W, priority: low }\n',
      '  - { id: a5, name: A, kind: higher, figure: activePower, limit: 3 kW, priority: low }\n',
      '  - { id: a6, name: A, kind: high, figure: noSuchFigure, limit: 3 kW, priority: low }\n',
      '  - { id: a7, name: A, kind: high, figure: discharge, limit: 110 % of rated, onDelay: 5, priority: low }\n',
    )

  it('are told in one go, each once, and nothing that only follows from another', () => {
    const places = complaintsOf(MANY).map((one) => /^\d+: ([^:]+):/.exec(one)?.[1])
    expect(places).toEqual([
      'turbine.inletBore',
      'instruments[0].role',
      'instruments[1].unit',
      'instruments[2].topic',
      'figures[0].formula',
      'alarms[0].limit',
      'alarms[4].kind',
      'alarms[5].figure',
      'alarms[6].onDelay',
    ])
  })

  it('are the same when the first ones are mended one by one', () => {
    const mended = MANY.replace('inletBore: 100', 'inletBore: 100 mm')
      .replace('role: penstockPressure', 'role: inletPressure')
      .replace('unit: furlong', 'unit: L/s')
      .replace('topic: mill/#', 'topic: mill/power')
    const before = complaintsOf(MANY)
    const isThere = (one: string) => before.some((other) => other.split(':')[1] === one.split(':')[1])
    expect(
      complaintsOf(mended)
        .filter((one) => !isThere(one))
        .map((one) => one.split(':')[1]),
    ).toEqual([
      // penstockPressure was the name of an instrument's role before
      ' alarms[1].figure',
    ])
  })

  it.each([
    ['a section that has no required field', 'turbine: {', 'turbine: { colour: red,'],
    ['an entry that is no mapping', 'alarms:', 'alarms:\n  - 5'],
    ['a missing topic', ', topic: mill/#', ''],
    ['a wrong zone', 'Europe/London', 'Atlantis'],
    ['no version', 'headrace: 1', 'version: 1'],
  ])('go on behind %s', (_what, from, to) => {
    const complaints = complaintsOf(MANY.replace(from, to))
    expect(complaints.some((one) => one.includes('noSuchFigure'))).toBe(true)
    expect(complaints.some((one) => one.includes('faulty'))).toBe(false)
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
