import { describe, expect, it } from 'vitest'
import { witnessesOf } from '../../../../server/derive/witnesses.ts'
import { figureBench, figureOf, type Readings } from '../../../support/figureBench.ts'

// Numbers of the design sheet of Skelderwath (our own design, see test/support/designSheets.ts: "design sheet"), and hand
// calculations where a line says so.
const MILL = {
  use: 'gridTied',
  site: 'gravity: 9.81 m/s2, waterDensity: 999.7 kg/m3, waterTemperature: 10 Cel',
  turbine:
    '{ kind: crossflow, draftTube: true, pitchDiameter: 500 mm, inletBore: 700 mm, ratedNetHead: 20 m, ratedDischarge: 0.632 m3/s, driveRatio: 2.846, driveEfficiency: 97 % }',
  generator:
    '{ kind: induction, polePairs: 3, ratedPower: 90 kW, ratedFrequency: 50 Hz, ratedSpeed: 1012 /min, inertia: 8.76 kg.m2 }',
  penstock:
    '{ bore: 700 mm, length: 85 m, roughness: 0.10 mm, minorLoss: 2.2, waveSpeed: 1050 m/s, closingTime: 8 s }',
}
const LEVELS = { grossHead: '20.59 m', discharge: '0.632 m3/s' }

describe('figures of the grid-tied crossflow plant', () => {
  it.each<[figure: string, readings: Readings, expected: number, within: number]>([
    ['netHead', LEVELS, 20.0, 0.06],
    ['closureHead', LEVELS, 3.56, 0.01],
    ['surgeHead', LEVELS, 176, 0.5],
    ['slip', { frequency: '50 Hz', speed: '1012 /min' }, -0.012, 1e-9],
    ['headSpeedRatio', { ...LEVELS, turbineSpeed: '355.6 /min' }, 0.47, 0.001],
    ['specificEnergy', { activePower: '90 kW', discharge: '0.632 m3/s' }, 0.0395 * 3.6e6, 300],
    ['plantEfficiency', { ...LEVELS, activePower: '90 kW' }, 90_000 / (999.7 * 9.81 * 0.632 * 20.59), 1e-9],
    ['activePower', { 'lineVoltage.1': '400 V', 'phaseCurrent.1': '151 A', powerFactor: '0.86' }, 90_000, 50],
  ])('%s of %o is %d (design sheet)', (figure, readings, expected, within) => {
    expect(Math.abs(figureOf(figure, readings, MILL) - expected)).toBeLessThanOrEqual(within)
  })

  it('slip is blank while the machine stands still', () => {
    expect(figureBench(MILL, { frequency: '50 Hz', speed: '0 /min' }).view('slip')).toMatchObject({
      value: null,
      reasons: ['speed is below 20 % of rated'],
    })
  })

  it('a reaction machine with the outlet area loses its outlet velocity head', () => {
    const turbine = MILL.turbine.replace('draftTube: true', 'draftTube: true, draftTubeArea: 0.316 m2')
    const site = `${MILL.site}, elevations: { inletGauge: 42 m, tailwaterZero: 40 m }`
    const readings = { inletPressure: '1.76 bar', tailwaterLevel: '0.61 m', discharge: '0.632 m3/s' }
    // by hand: outlet at 2 m/s, 4/(2g) less
    const without = figureOf('netHead', readings, { ...MILL, site })
    expect(figureOf('netHead', readings, { ...MILL, site, turbine })).toBeCloseTo(without - 4 / 19.62, 9)
  })
})

describe('a torque cell on the slow shaft of a belt drive', () => {
  // design sheet of Skelderwath: 99.2 kW at 355.6 min⁻¹ of the turbine, belt 2.846 : 1 and 97 %, 90 kW at the terminals
  const slow = (355.6 * Math.PI) / 30
  const readings = {
    ...LEVELS,
    turbineTorque: `${99_200 / slow} N.m`,
    turbineSpeed: '355.6 /min',
    activePower: '90 kW',
  }

  it('gives the power that the belt hands on, and the efficiencies of turbine and generator', () => {
    const bench = figureBench(MILL, readings)
    expect(bench.view('shaftPower').value).toBeCloseTo(99_200 * 0.97, 6)
    const water = bench.view('hydraulicPower').value!
    expect(bench.view('turbineEfficiency').value).toBeCloseTo(99_200 / water, 9)
    expect(bench.view('generatorEfficiency').value).toBeCloseTo(90 / (99.2 * 0.97), 9)
    // by hand: the generator side of a belt, torque over the ratio, less what the belt loses
    expect(bench.view('torque').value).toBeCloseTo((99_200 / slow / 2.846) * 0.97, 6)
    expect(bench.view('torque').reasons.join()).toMatch(/^estimated: from the turbine shaft/)
  })

  it('and one on the fast shaft tells turbineTorque the other way round (by hand)', () => {
    const bench = figureBench(MILL, { ...LEVELS, torque: '900 N.m', speed: '1012 /min' })
    expect(bench.view('turbineTorque').value).toBeCloseTo((900 * 2.846) / 0.97, 9)
    expect(bench.view('shaftPower').value).toBeCloseTo((900 * 1012 * Math.PI) / 30, 6)
  })

  it('is not taken for the torque of the generator shaft: 2.846 times the power came out before', () => {
    expect(figureBench(MILL, readings).view('turbineEfficiency').quality).not.toBe('bad')
    expect(figureOf('turbineEfficiency', readings, MILL)).toBeLessThan(1)
  })

  it('leaves the speed of the generator to the ratio of the belt, marked as estimated, and so does its witness of over-speed', () => {
    const bench = figureBench(MILL, readings)
    // by hand
    expect(bench.view('speed').value).toBeCloseTo(slow * 2.846, 9)
    expect(bench.view('speed').reasons.join()).toMatch(/not to slip/)
    const [witness] = witnessesOf(bench.plan.plant)
    expect(witness!.quantity).toBe('turbineSpeed')
    expect(witness!.toSpeed(slow)).toBeCloseTo(slow * 2.846, 9)
    const direct = { ...MILL, turbine: MILL.turbine.replace('driveRatio: 2.846, ', '') }
    expect(figureBench(direct, readings).view('speed')).toMatchObject({ quality: 'good' })
  })
})

describe('a reaction turbine whose tailwater no instrument reads', () => {
  const readings = { inletPressure: '0.489 bar', discharge: '0.632 m3/s' }
  const at = (elevations: string, turbine = MILL.turbine) => ({
    use: 'gridTied',
    site: `${MILL.site}, elevations: { ${elevations} }`,
    turbine,
  })

  it('has no net head from its gauge alone, and says that the elevation of the tailwater is missing', () => {
    const { plan } = figureBench(at('inletGauge: 42 m'), readings)
    for (const figure of ['netHead', 'hydraulicPower']) expect(plan.indexOf.has(figure), figure).toBe(false)
    const needs = (figure: string) => plan.missing.find(({ id }) => id === figure)?.needs
    expect(needs('netHead')).toMatch(/elevation of the tailwater/)
    expect(needs('tailwaterElevation')).toBe(
      'needs tailwater level, or site.elevations.tailwater in the plant file',
    )
  })

  it('takes the elevation of the plant file for tailwaterElevation, marked as estimated (by hand)', () => {
    const bench = figureBench(at('inletGauge: 42 m, tailwater: 39 m'), readings)
    // by hand: 0.489 bar is 4.9862 m; 3 m down to the tailwater; (0.632/0.38485)²/19.62
    const byHand = 0.489e5 / (999.7 * 9.81) + 3 + (0.632 / ((Math.PI / 4) * 0.49)) ** 2 / 19.62
    expect(bench.view('netHead').value).toBeCloseTo(byHand, 9)
    expect(bench.view('netHead').quality).toBe('uncertain')
    expect(bench.view('netHead').reasons.join()).toMatch(/nobody measures it/)
    const gauge = { ...readings, tailwaterLevel: '1 m' }
    const read = figureBench(at('inletGauge: 42 m, tailwaterZero: 38 m, tailwater: 35 m'), gauge)
    expect(read.view('tailwaterElevation')).toMatchObject({ value: 39, quality: 'good' })
    expect(read.view('netHead').value).toBeCloseTo(byHand, 9)
  })

  it('leaves the velocity head out where its bore is not known, and says so', () => {
    const bare = MILL.turbine.replace('inletBore: 700 mm, ', '')
    const bench = figureBench(at('inletGauge: 42 m, tailwater: 39 m', bare), readings)
    // by hand
    expect(bench.view('netHead').value).toBeCloseTo(0.489e5 / (999.7 * 9.81) + 3, 9)
    expect(bench.view('netHead').reasons.join()).toMatch(/velocity head is left out/)
  })
})
