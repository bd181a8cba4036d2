import { describe, expect, it } from 'vitest'
import { printFault, readPlant } from '../../../server/plant/load.ts'

const file = (sections: string) => `headrace: 1
id: bench
name: Bench
use: rig
site: { timeZone: Etc/UTC, gravity: 9.81 m/s2 ± 0.001 m/s2, waterTemperature: 10 Cel ± 2 K }
${sections}
instruments:
  - { id: a, topic: t/a, unit: bar }
`

function stated(sections: string) {
  const read = readPlant(file(sections), 'bench.yaml')
  if ('faults' in read) throw new Error(read.faults.map((one) => printFault('bench.yaml', one)).join('\n'))
  return read.plant
}

function faults(sections: string): string[] {
  const read = readPlant(file(sections), 'bench.yaml')
  return 'faults' in read ? read.faults.map((one) => printFault('bench.yaml', one)) : []
}

describe('the ± of a constant', () => {
  it.each([
    ['penstock.bore', 'penstock: { bore: 300 mm ± 1 mm, length: 1 m, roughness: 1 mm }', 0.3, 0.001, false],
    ['penstock.bore', 'penstock: { bore: 300 mm ± 0.5 %, length: 1 m, roughness: 1 mm }', 0.3, 0.005, true],
    ['penstock.bore', 'penstock: { bore: 300 mm +- 2 mm, length: 1 m, roughness: 1 mm }', 0.3, 0.002, false],
    [
      'turbine.nozzleCoefficient',
      'turbine: { kind: turgo, nozzleCoefficient: 0.62 ± 0.01 }',
      0.62,
      0.01,
      false,
    ],
    [
      'turbine.nozzleCoefficient',
      'turbine: { kind: turgo, nozzleCoefficient: 0.62 ± 2 % }',
      0.62,
      0.02,
      true,
    ],
    ['turbine.driveEfficiency', 'turbine: { kind: turgo, driveEfficiency: 94 % ± 1 % }', 0.94, 0.01, false],
    ['site.waterTemperature', '', 283.15, 2, false],
    ['site.gravity', '', 9.81, 0.001, false],
  ])('of %s is read beside its value in "%s"', (path, sections, value, half, isShare) => {
    const plant = stated(sections)
    expect(plant.constants.get(path)).toBeCloseTo(value, 9)
    expect(plant.plusMinus.get(path)!.half).toBeCloseTo(half, 12)
    expect(plant.plusMinus.get(path)).toMatchObject({ isShare, isRectangular: true })
  })

  it('may be a record in the words of an instrument’s accuracy, and stands beside the points of a curve', () => {
    const plant = stated(`turbine:
  kind: turgo
  pitchDiameter: { value: 175 mm, plusMinus: 0.5 mm, distribution: normal, calibration: calliper }
  efficiencyCurve: { points: [[0.2, 0.7], [1, 0.8]], plusMinus: 0.015 }`)
    expect(plant.plusMinus.get('turbine.pitchDiameter')).toEqual({
      half: 0.0005,
      isShare: false,
      isRectangular: false,
      calibration: 'calliper',
    })
    expect(plant.turbine!.efficiencyCurve).toEqual([
      [0.2, 0.7],
      [1, 0.8],
    ])
    expect(plant.plusMinus.get('turbine.efficiencyCurve')).toMatchObject({ half: 0.015, isShare: false })
  })

  it.each([
    [
      'penstock: { bore: 300 mm ± 1 s, length: 1 m, roughness: 1 mm }',
      /^bench.yaml:6: penstock.bore: found "1 s", expected after ±/,
    ],
    [
      'penstock: { bore: 300 mm ± -1 mm, length: 1 m, roughness: 1 mm }',
      /penstock.bore: found "-1 mm", expected .*not negative/,
    ],
    [
      'penstock: { bore: 300 s ± 1 mm, length: 1 m, roughness: 1 mm }',
      /penstock.bore: found "300 s ± 1 mm", expected a number with one of the units/,
    ],
    [
      'penstock: { bore: { value: 300 mm }, length: 1 m, roughness: 1 mm }',
      /penstock.bore: found nothing, expected after ±/,
    ],
    [
      'penstock: { bore: { value: 300 mm, plusMinus: 1 mm, kind: normal }, length: 1 m, roughness: 1 mm }',
      /penstock.bore/,
    ],
    ['turbine: { kind: turgo, jets: 2 ± 1 }', /turbine.jets/],
    [
      'turbine: { kind: turgo, pitchDiameter: { points: [[0, 1], [1, 1]], plusMinus: 1 % } }',
      /pitchDiameter/,
    ],
  ])('that cannot be read is a fault with its place: %s', (sections, expected) => {
    const found = faults(sections)
    expect(found.length).toBeGreaterThan(0)
    expect(found.join('\n')).toMatch(expected)
  })
})
