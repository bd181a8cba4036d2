import { describe, expect, it } from 'vitest'
import { quantities } from '../../../server/derive/quantities/index.ts'
import { planPlant } from '../../../server/livePlant.ts'
import { roles } from '../../../server/plant/roles.ts'
import { type AlarmBench, alarmBench } from '../../support/alarmBench.ts'
import { plantOf } from '../../support/plants.ts'

/** 0 °C in K: definition of the degree Celsius (SI brochure, 9th edition, 2.3.1). */
const ZERO = 273.15
const THERMOMETERS = `- { id: bearing, role: bearingTemperature.1, topic: mill/bearing, unit: Cel }
  - { id: air, role: ambientTemperature, topic: mill/air, unit: Cel }`

function benchOf(alarm: string, figures = ''): AlarmBench {
  const line = `
  - { id: hot, name: Hot, priority: low, ${alarm} }
${figures}`
  return alarmBench(line, undefined, THERMOMETERS)
}

/** Whether it is raised with these temperatures [°C] of bearing and air. */
function isRaised(alarm: string, bearing: number, air: number, figures = ''): boolean {
  const bench = benchOf(alarm, figures)
  bench.read('bearingTemperature.1', bearing + ZERO)
  bench.read('ambientTemperature', air + ZERO)
  bench.tick(200)
  return bench.alarm('hot').active
}

describe('a limit in Cel', () => {
  const rise = (limit: string) => `kind: high, figure: bearingRise, limit: ${limit}`

  it.each(['45 Cel', '45 K'])('is a difference on a rise of temperature: %s', (limit) => {
    expect(isRaised(rise(limit), 66, 20)).toBe(true)
    expect(isRaised(rise(limit), 64, 20)).toBe(false)
    expect(benchOf(rise(limit)).alarm('hot').limit).toBe(45)
  })

  it('is a temperature on a temperature', () => {
    const level = 'kind: high, figure: bearingTemperature.1, limit: 45 Cel'
    expect(isRaised(level, 46, 20)).toBe(true)
    expect(isRaised(level, 44, 20)).toBe(false)
  })
})

describe('a limit on a figure of the plant’s own', () => {
  const T = 'inputs: { T_1: bearingTemperature.1, T_2: ambientTemperature }'
  const own = (formula: string, more: string) =>
    `figures: [{ id: mine, name: Mine, formula: "${formula}", ${T}, ${more} }, { id: twice, name: Twice, formula: mine * 1, unit: Cel }]`
  const above = 'kind: high, limit: 45 Cel, figure'

  // 318.15 K in place of 45 K never rose: the bearing would have had to stand 318 °C above the air
  it.each(['unit: Cel', 'unit: K', 'unit: K, view: Cel'])(
    'is a rise where its formula is a difference of temperatures, whatever unit is written: %s',
    (unit) => {
      for (const figure of ['mine', 'twice']) {
        expect(isRaised(`${above}: ${figure}`, 66, 20, own('T_1 - T_2', unit))).toBe(true)
        expect(isRaised(`${above}: ${figure}`, 64, 20, own('T_1 - T_2', unit))).toBe(false)
      }
      expect(
        isRaised(
          'kind: high, limit: -40 Cel, figure: bearingTemperature.1, while: mine > 45 Cel',
          66,
          20,
          own('T_1 - T_2', unit),
        ),
      ).toBe(true)
    },
  )

  it.each(['unit: Cel', 'unit: K'])('is a temperature where its formula is one: %s', (unit) => {
    const mean = own('(T_1 + T_2) / 2', unit)
    expect(isRaised(`${above}: mine`, 52, 40, mean)).toBe(true)
    expect(isRaised(`${above}: mine`, 48, 40, mean)).toBe(false)
  })

  it('is a difference for half a difference and for one against an amount in Cel, a temperature for its reading plus 5 K', () => {
    expect(isRaised(`${above}: mine`, 90, -2, own('0.5 * (T_1 - T_2)', 'unit: Cel'))).toBe(true)
    const amount = own('0.5 * (T_1 + T_2) - c', 'constants: { c: 10 Cel }, unit: Cel')
    expect(isRaised(`${above}: mine`, 62, 50, amount)).toBe(true)
    expect(isRaised(`${above}: mine`, 58, 50, amount)).toBe(false)
    const more = own('0.5 * (T_1 + T_2) + c', 'constants: { c: 5 K }, unit: Cel')
    expect(isRaised(`${above}: mine`, 42, 40, more)).toBe(true)
    expect(isRaised(`${above}: mine`, 38, 40, more)).toBe(false)
  })

  it('cannot be on the sum of two temperatures: that is refused', () => {
    const plant = plantOf(
      `instruments:\n  ${THERMOMETERS}\nfigures: [{ id: mine, name: Mine, formula: "T_1 + T_2", ${T}, unit: Cel }]`,
    )
    expect(planPlant(plant).faults).toEqual([
      {
        path: 'figures[0].formula',
        received: '"T_1 + T_2"',
        expected: 'a temperature, or a difference of two: this is neither',
      },
    ])
  })
})

describe('a condition over temperatures', () => {
  const raisedWhile = (condition: string, bearing: number, air: number) =>
    isRaised(`kind: high, figure: bearingTemperature.1, limit: -40 Cel, while: "${condition}"`, bearing, air)

  it.each([
    ['bearingTemperature_1 > 40 Cel', 41, 39],
    ['bearingTemperature_1 > 313.15 K', 41, 39],
    ['40 Cel < bearingTemperature_1', 41, 39],
    ['bearingTemperature_1 > -5 Cel', -4, -6],
    ['bearingTemperature_1 - ambientTemperature > 20 Cel', 41, 39],
    ['bearingTemperature_1 > ambientTemperature + 20 K', 41, 39],
    ['bearingRise > 20 Cel', 41, 39],
    ['max(bearingTemperature_1, ambientTemperature) >= 40 Cel', 40, 39],
  ])('reads "%s" as people mean it', (condition, above, below) => {
    expect(raisedWhile(condition, above, 20)).toBe(true)
    expect(raisedWhile(condition, below, 20)).toBe(false)
  })

  it.each([
    ['bearingTemperature_1 > ambientTemperature + 20 Cel', 'stands for itself on one side'],
    ['bearingTemperature_1 + ambientTemperature > 20 Cel', 'neither a temperature nor a difference'],
    ['bearingTemperature_1 > 40', 'puts K and a plain number together'],
  ])('refuses "%s", which can be read in two ways or in none', (condition, sentence) => {
    expect(() => raisedWhile(condition, 20, 20)).toThrow(sentence)
  })
})

describe('every figure in K', () => {
  /** Stated only where it differs from the unit. */
  const viewOf = ({ view, unit }: { view?: string; unit: string }) => view ?? unit

  it('is a temperature, read in Cel, or a difference, read in K', () => {
    const inKelvin = [...roles, ...quantities].filter((one) => one.unit === 'K')
    expect(inKelvin.map(viewOf)).toContain('Cel')
    const differences = quantities.filter(
      ({ unit, ways }) => unit === 'K' && ways.every(({ formula }) => formula.includes(' - ')),
    )
    expect(inKelvin.filter((one) => viewOf(one) === 'K')).toEqual(differences)
    expect(differences.map((one) => one.id)).toContain('bearingRise')
    expect(inKelvin.every((one) => ['K', 'Cel'].includes(viewOf(one)))).toBe(true)
  })
})
