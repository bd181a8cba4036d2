import { describe, expect, it } from 'vitest'
import { quantities } from '../../../server/derive/quantities/index.ts'
import { roles } from '../../../server/plant/roles.ts'
import { type AlarmBench, alarmBench } from '../../support/alarmBench.ts'

/** 0 °C in K: definition of the degree Celsius (SI brochure, 9th edition, 2.3.1). */
const ZERO = 273.15
const THERMOMETERS = `- { id: bearing, role: bearingTemperature.1, topic: mill/bearing, unit: Cel }
  - { id: air, role: ambientTemperature, topic: mill/air, unit: Cel }`

function benchOf(alarm: string): AlarmBench {
  const line = `
  - { id: hot, name: Hot, priority: low, ${alarm} }`
  return alarmBench(line, undefined, THERMOMETERS)
}

/** Whether it is raised with these temperatures [°C] of bearing and air. */
function isRaised(alarm: string, bearing: number, air: number): boolean {
  const bench = benchOf(alarm)
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
