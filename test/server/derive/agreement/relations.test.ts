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

describe('the relations of a torque cell at a belt drive', () => {
  // By hand: 1000 kg/m³ · 9.81 m/s² · 0.5 m³/s · 20 m = 98,100 W of water, of which the runner takes 80 %, the belt hands on
  // 97 % and the generator 90 %. The ratio of the speeds is 3.
  const water = 98_100
  const belt = {
    use: 'gridTied',
    site: 'gravity: 9.81 m/s2, waterDensity: 1000 kg/m3, waterTemperature: 10 Cel, elevations: { turbine: 0 m, inletGauge: 0 m }',
    turbine:
      '{ kind: turgo, jets: 1, nozzleBore: 200 mm, inletBore: 10 m, ratedSpeed: 340 /min, ratedNetHead: 20 m, ratedDischarge: 0.5 m3/s, driveRatio: 3, driveEfficiency: 97 %, efficiencyCurve: [[0, 0.8], [1, 0.8]] }',
    generator:
      '{ kind: induction, polePairs: 3, ratedPower: 90 kW, ratedFrequency: 50 Hz, ratedSpeed: 1020 /min, efficiencyCurve: [[0, 0.9], [1, 0.9]] }',
  }
  const slow = (340 * Math.PI) / 30
  const readings = {
    inletPressure: `${9810 * 20} Pa`,
    discharge: '0.5 m3/s',
    activePower: `${water * 0.8 * 0.97 * 0.9} W`,
  }
  const onTurbine = { ...readings, turbineSpeed: '340 /min', turbineTorque: `${(water * 0.8) / slow} N.m` }

  it('turbineShaftResidual and turbineToGeneratorResidual are 0 where the cell sits on the slow shaft and all agrees', () => {
    expect(figureOf('turbineShaftResidual', onTurbine, belt) / water).toBeCloseTo(0, 3)
    expect(figureOf('turbineToGeneratorResidual', onTurbine, belt) / water).toBeCloseTo(0, 3)
  })

  it('both tell a cell that reads 10 % too much, with opposite signs', () => {
    const wrong = { ...onTurbine, turbineTorque: `${(1.1 * water * 0.8) / slow} N.m` }
    expect(figureOf('turbineShaftResidual', wrong, belt) / water).toBeCloseTo(-0.08, 3)
    expect(figureOf('turbineToGeneratorResidual', wrong, belt) / water).toBeCloseTo(0.08 * 0.97 * 0.9, 3)
  })

  it('with only the generator’s tachometer the speed of the turbine follows from the ratio', () => {
    const { turbineSpeed: _, ...others } = onTurbine
    const bench = { ...others, speed: '1020 /min' }
    expect(figureOf('turbineShaftResidual', bench, belt) / water).toBeCloseTo(0, 3)
  })

  it('turbineResidual of a cell on the fast shaft counts what the belt loses, and is there at the turbine’s own best speed', () => {
    const onGenerator = {
      ...readings,
      speed: '1020 /min',
      torque: `${(water * 0.8 * 0.97) / (3 * slow)} N.m`,
    }
    expect(figureOf('turbineResidual', onGenerator, belt) / water).toBeCloseTo(0, 3)
  })
})
