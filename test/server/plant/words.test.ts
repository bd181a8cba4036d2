import { describe, expect, it } from 'vitest'
import { readMeasure } from '../../../server/plant/measures.ts'
import { nearRoles } from '../../../server/plant/nearRoles.ts'
import { nearUnits, spellings, unitNamed } from '../../../server/plant/unitNames.ts'
import { allUnits, findUnit, unitOf } from '../../../server/wire/units.ts'
import { faultsOfPlant, plantOf, THREE_SENSORS } from '../../support/plants.ts'

describe('units as people write them', () => {
  it.each([
    ['kWh', 'kW.h'],
    ['kvarh', 'kvar.h'],
    ['kVAr', 'kvar'],
    ['rpm', '{rpm}'],
    ['°C', 'Cel'],
    ['°F', '[degF]'],
    ['°', 'deg'],
    ['l/s', 'L/s'],
    ['m³/s', 'm3/s'],
    ['psi', '[psi]'],
    ['GWh', 'GW.h'],
    ['µm', 'um'],
    ['Nm', 'N.m'],
    ['1/min', '/min'],
    ['mH2O', 'm[H2O]'],
  ])('takes %s for %s', (text, code) => {
    expect(unitNamed(text)?.code).toBe(code)
  })

  it('takes no spelling that is the code of another unit, and none for two', () => {
    for (const [text, code] of Object.entries(spellings)) {
      expect(findUnit(text), text).toBeUndefined()
      expect(findUnit(code), code).toBeDefined()
    }
    const prints = allUnits.map((unit) => unit.print).filter((print) => print !== '')
    expect(new Set(prints).size).toBe(prints.length)
  })

  it.each(['C', 'gpm', 'hp', 'Mw', 'toString', ''])('guesses nothing for %j', (text) => {
    expect(unitNamed(text)?.code === undefined || unitNamed(text)!.code === text).toBe(true)
  })

  it.each([
    ['kWhr', '1', 'kW.h'],
    ['kWhs', '1', 'kW.h'],
    ['litre/s', '1', undefined],
    ['barr', '1', 'bar'],
    ['kPA', '1', 'kPa'],
  ])('finds what %s comes nearest to', (text, _, code) => {
    expect(nearUnits(text)[0]).toBe(code)
  })

  it('reads amounts and instruments with them', () => {
    expect(readMeasure('1500 rpm', unitOf('rad/s'))).toMatchObject({ si: expect.closeTo(50 * Math.PI, 9) })
    expect(readMeasure('48.2°', unitOf('rad'))).toMatchObject({ si: expect.closeTo(0.84125, 4) })
    // 212 °F = 100 °C (definition of the scale)
    expect(readMeasure('212 °F', unitOf('K'))).toMatchObject({ si: expect.closeTo(373.15, 9) })
    const plant = plantOf(THREE_SENSORS.replace('unit: L/s', 'unit: l/s'))
    expect(plant.instruments.find((one) => one.quantity === 'discharge')?.unit.code).toBe('L/s')
  })

  it('takes a bare 1, which YAML makes a number of', () => {
    const [lamp] = plantOf('instruments: [{ id: lamp, topic: t, unit: 1 }]').instruments
    expect(lamp?.unit.code).toBe('1')
  })

  it('says what may have been meant', () => {
    const [fault] = faultsOfPlant(THREE_SENSORS.replace('unit: bar', 'unit: barr'))
    expect(fault?.expected).toContain('did you mean "bar"')
    const [amount] = faultsOfPlant(THREE_SENSORS.replace('inletBore: 100 mm', 'inletBore: 100 mmm'))
    expect(amount?.expected).toContain('(did you mean mm')
  })
})

describe('roles as people write them', () => {
  // what the trade says, common practice, no source
  it.each([
    ['forebayLevel', 'headwaterLevel'],
    ['wicketGate', 'guideVaneOpening'],
    ['wicketGatePosition', 'guideVaneOpening'],
    ['breaker', 'breakerClosed'],
    ['inletPresure', 'inletPressure'],
    ['tailraceLevel', 'tailwaterLevel'],
    ['penstockPressure', 'inletPressure'],
    ['rpm', 'speed'],
    ['generatorPower', 'activePower'],
    ['flowRate', 'discharge'],
    ['spearPosition', 'needleStroke'],
    ['trashrack', 'rackDifferential'],
    ['bearingTemp', 'bearingTemperature'],
    ['statorTemperature', 'windingTemperature'],
    ['cosPhi', 'displacementFactor'],
    ['kWh', 'energyMeter'],
    ['soc', 'stateOfCharge'],
    ['eStop', 'emergencyStop'],
    ['batteryVolts', 'batteryVoltage'],
    ['line_voltage', 'lineVoltage'],
    ['downstream_level', 'tailwaterLevel'],
    ['airTemp', 'ambientTemperature'],
  ])('%s leads to %s', (text, role) => {
    expect(nearRoles(text).map((one) => one.id)[0]).toBe(role)
  })

  it('says how several of one kind are told apart', () => {
    const twice = THREE_SENSORS.replace(
      'instruments:',
      'instruments:\n  - { id: b1, role: bearingTemperature, topic: a, unit: Cel }\n  - { id: b2, role: bearingTemperature, topic: b, unit: Cel }',
    )
    expect(faultsOfPlant(twice)).toMatchObject([
      {
        received: '"bearingTemperature" again',
        expected: expect.stringContaining('number them "bearingTemperature.1", "bearingTemperature.2"'),
      },
    ])
  })
})
