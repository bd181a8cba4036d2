import { describe, expect, it } from 'vitest'
import { figureBench, figureOf } from '../../../support/figureBench.ts'

describe('the relation of speed and frequency of an induction machine', () => {
  const mill = {
    use: 'gridTied',
    generator:
      '{ kind: induction, polePairs: 3, ratedPower: 90 kW, ratedFrequency: 50 Hz, ratedSpeed: 1012 /min }',
  }
  const readings = { frequency: '50 Hz', speed: '1012 /min', activePower: '90 kW' }

  it('slipResidual is 0 at the rated point: 1012 min⁻¹ with 3 pole pairs is 1.2 % over 50 Hz (definition of slip)', () => {
    expect(figureOf('slipResidual', readings, mill)).toBeCloseTo(0, 9)
  })

  it('slipResidual takes the slip as in proportion to power (by hand: half of 1.2 %, 50.6/1.006 Hz)', () => {
    const half = { ...readings, activePower: '45 kW' }
    expect(figureOf('slipResidual', half, mill)).toBeCloseTo(50.6 / 1.006 - 50, 9)
  })

  it('is not there at a machine without slip', () => {
    const synchronous = { ...mill, generator: mill.generator.replace('induction', 'synchronous') }
    const { plan } = figureBench(synchronous, readings)
    expect(plan.indexOf.has('slipResidual')).toBe(false)
    expect(plan.indexOf.has('frequencyResidual')).toBe(true)
  })
})

describe('the relation of discharge and spears', () => {
  const beck = {
    use: 'offGrid',
    site: 'gravity: 9.81 m/s2, waterDensity: 1000 kg/m3, waterTemperature: 10 Cel, elevations: { turbine: 0 m, inletGauge: 0 m }',
    turbine:
      '{ kind: turgo, jets: 2, nozzleBore: 32 mm, inletBore: 10 m, nozzleCurve: [[0, 0], [1, 0.9]], ratedNetHead: 40 m }',
  }
  const readings = {
    inletPressure: `${9810 * 40} Pa`,
    discharge: '20 L/s',
    'needleStroke.1': '1',
    'needleStroke.2': '0.5',
  }

  it('spearResidual is what the nozzles pass at their strokes less the meter (by hand: 1.35·A·√(2g·40 m) − 20 L/s)', () => {
    const passed = 1.35 * (Math.PI / 4) * 0.032 ** 2 * Math.sqrt(2 * 9.81 * 40)
    expect(figureOf('spearResidual', readings, beck)).toBeCloseTo(passed - 0.02, 8)
  })

  it('is not there while a spear is not measured', () => {
    const { 'needleStroke.2': _, ...one } = readings
    expect(figureBench(beck, one).plan.indexOf.has('spearResidual')).toBe(false)
  })
})
