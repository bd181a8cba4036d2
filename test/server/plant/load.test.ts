import { describe, expect, it } from 'vitest'
import { printFault } from '../../../server/plant/load.ts'
import { faultsOfPlant, plantOf, THREE_SENSORS } from '../../support/plants.ts'

const changed = (from: string, to: string) => {
  if (!THREE_SENSORS.includes(from)) throw new Error(`the test plant has no "${from}"`)
  return THREE_SENSORS.replace(from, to)
}

describe('readPlant', () => {
  it('brings every amount into SI', () => {
    const plant = plantOf(THREE_SENSORS)
    expect(plant.constants.get('turbine.inletBore')).toBe(0.1)
    expect(plant.constants.get('generator.ratedSpeed')).toBeCloseTo(157.0796, 4)
    expect(plant.constants.get('turbine.ratedDischarge')).toBeCloseTo(0.012, 12)
  })

  it('takes the silence limit as three periods, at least 5 s, unless the file says otherwise', () => {
    const plant = plantOf(changed('unit: bar,', 'unit: bar, period: 10 s,'))
    expect(plant.instruments.map((one) => one.staleAfterMs)).toEqual([30_000, 5000, 5000])
  })

  it.each<[what: string, from: string, to: string, path: string, expected: RegExp]>([
    [
      'a wrong unit',
      'unit: bar',
      'unit: furlong',
      'instruments[0].unit',
      /a unit of turbine inlet pressure: Pa/,
    ],
    ['a unit of something else', 'unit: bar', 'unit: m', 'instruments[0].unit', /bar/],
    [
      'an amount without unit',
      'inletBore: 100 mm',
      'inletBore: 100',
      'turbine.inletBore',
      /number with one of the units m, cm, mm/,
    ],
    [
      'an amount that is no number',
      'inletBore: 100 mm',
      'inletBore: wide',
      'turbine.inletBore',
      /number with one of the units/,
    ],
    ['an unknown role', 'role: inletPressure', 'role: inletPresure', 'instruments[0].role', /inletPressure/],
    ['an unknown key', 'use: offGrid', 'use: offGrid\ncolour: red', 'colour', /no such key/],
    ['a wrong choice', 'kind: pelton', 'kind: waterwheel', 'turbine.kind', /pelton/],
    [
      'a range the wrong way round',
      'range: [0, 10]',
      'range: [10, 0]',
      'instruments[0].range',
      /low before high/,
    ],
    [
      'a topic where the server itself publishes',
      'topic: mill/pressure',
      'topic: headrace/mill/netHead',
      'instruments[0].topic',
      /outside "headrace\/"/,
    ],
    [
      'a wildcard topic',
      'topic: mill/pressure',
      'topic: mill/#',
      'instruments[0].topic',
      /without "\+", "#"/,
    ],
    [
      'a topic of the broker',
      'topic: mill/pressure',
      'topic: $SYS/x',
      'instruments[0].topic',
      /does not begin with/,
    ],
    ['an id twice', 'id: meter', 'id: gauge', 'instruments[1].id', /only once/],
    [
      'a role twice',
      'role: discharge, topic: mill/flow, unit: L/s',
      'role: inletPressure, topic: mill/flow, unit: bar',
      'instruments[1].role',
      /only once/,
    ],
    ['a missing time zone', '  timeZone: Europe/London\n', '', 'site.timeZone', /string|time zone/],
    ['a time zone that is none', 'Europe/London', 'Europe/Atlantis', 'site.timeZone', /IANA time zone/],
    [
      'commands at a real plant',
      'use: offGrid',
      'use: offGrid\nsimulation: { controls: [] }',
      'simulation',
      /never commanded/,
    ],
    ['a later version', 'headrace: 1', 'headrace: 2', 'headrace', /version of the plant file/],
  ])('reports %s with its path and what was expected', (_what, from, to, path, expected) => {
    const faults = faultsOfPlant(changed(from, to))
    expect(faults.map((fault) => fault.path)).toContain(path)
    expect(faults.find((fault) => fault.path === path)!.expected).toMatch(expected)
  })

  it('reports every fault at once, in the order of the file, with line numbers', () => {
    const text = changed('unit: bar', 'unit: psi')
      .replace('kind: pelton', 'kind: waterwheel')
      .replace('9.81 m/s2', 'heavy')
    const faults = faultsOfPlant(text)
    expect(faults.map((fault) => fault.path)).toEqual(['site.gravity', 'turbine.kind'])
    expect(faults.map((fault) => fault.line)).toEqual([8, 11])
  })

  it('says where YAML itself is broken', () => {
    const [fault] = faultsOfPlant('headrace: 1\nid: [mill\n')
    expect(fault).toMatchObject({ expected: 'valid YAML' })
  })

  it.each(['', '[]', 'text', '!!js/function "f"', '&a [*a]'])('refuses %j without throwing', (text) => {
    expect(faultsOfPlant(text).length).toBeGreaterThan(0)
  })

  it('does not let a file reach the prototype of objects', () => {
    faultsOfPlant(`__proto__: { polluted: 1 }\n${THREE_SENSORS}`)
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined()
  })

  it('prints a fault as one line that a person can act on', () => {
    const [fault] = faultsOfPlant(changed('unit: bar', 'unit: furlong'))
    expect(printFault('mill.yaml', fault!)).toMatch(
      /^mill\.yaml:\d+: instruments\[0\]\.unit: found "furlong", expected a unit of turbine inlet pressure: Pa/,
    )
  })
})
