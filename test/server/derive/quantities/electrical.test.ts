import { describe, expect, it } from 'vitest'
import { figureBench, figureOf } from '../../../support/figureBench.ts'

// "references n.m" is a section of test/reference/README.md.
const generator = (more: string) => ({ generator: `{ ${more} }`, use: 'offGrid' })
const THREE = generator('kind: synchronous, polePairs: 2, ratedPower: 10 kW')
const phases = (voltage: number, current: number) =>
  Object.fromEntries(
    [1, 2, 3].flatMap((k) => [
      [`phaseVoltage.${k}`, `${voltage} V`],
      [`phaseCurrent.${k}`, `${current} A`],
    ]),
  )
describe('power of a generator', () => {
  const between = { 'lineVoltage.1': '400 V', 'phaseCurrent.1': '10 A' }

  it('of three phases follows from the voltage between them (references 8.1)', () => {
    expect(figureOf('activePower', { ...between, powerFactor: '0.85' }, THREE)).toBeCloseTo(5888.97275, 4)
    expect(figureOf('apparentPower', between, THREE)).toBeCloseTo(6928.20323, 4)
  })

  it('of three phases is the sum of theirs (references 8.1, with 400/√3 V)', () => {
    const readings = { ...phases(400 / Math.sqrt(3), 10), powerFactor: '0.85' }
    expect(figureOf('activePower', readings, THREE)).toBeCloseTo(5888.97275, 4)
    expect(figureOf('nonactivePower', readings, THREE)).toBeCloseTo(3649.65752, 4)
  })

  it('of one phase is U·I·cos φ (references 8.1)', () => {
    const one = generator('kind: synchronous, phases: 1, polePairs: 2')
    const readings = { 'phaseVoltage.1': '230 V', 'phaseCurrent.1': '8.7 A', powerFactor: '0.92' }
    expect(figureOf('activePower', readings, one)).toBeCloseTo(1840.92, 9)
  })

  it('of a direct-current machine is U·I (references 8.3: 52.5 V and 5 A)', () => {
    const direct = generator('kind: directCurrent')
    const bench = figureBench(direct, { dcVoltage: '52.5 V', dcCurrent: '5 A' })
    expect(bench.view('activePower').value).toBeCloseTo(262.5, 12)
    expect(bench.plan.indexOf.has('rectifierEfficiency')).toBe(false)
  })

  it('apparent follows from active and reactive power where both are measured (references 8.1)', () => {
    const readings = { activePower: '5888.97275 W', reactivePower: '3649.65752 var' }
    expect(figureOf('apparentPower', readings, THREE)).toBeCloseTo(6928.20323, 4)
    expect(figureOf('powerFactor', readings, THREE)).toBeCloseTo(0.85, 9)
  })

  it('that the meter gives is held against voltage, current and power factor', () => {
    // by hand: a current transformer entered with half its ratio, 3.45 kW for 6.9 kW
    const readings = { ...phases(230, 5), powerFactor: '1', activePower: '6.9 kW' }
    expect(figureOf('meterFactorResidual', readings, THREE)).toBeCloseTo(-3450, 9)
    const { powerFactor: _, ...without } = readings
    expect(figureBench(THREE, without).plan.indexOf.has('meterFactorResidual')).toBe(false)
  })
})

describe('unit figures', () => {
  const sections = {
    turbine:
      '{ kind: francis, pitchDiameter: 0.4 m, ratedNetHead: 60 m, ratedDischarge: 50 L/s, ratedSpeed: 750 /min }',
    site: 'gravity: 9.81 m/s2, waterDensity: 1000 kg/m3',
  }
  // 23.544 kW at 750 min⁻¹, 50 L/s and 60 m; torque by P/ω
  const readings = {
    grossHead: '60 m',
    discharge: '50 L/s',
    speed: '750 /min',
    torque: `${23_544 / (25 * Math.PI)} N.m`,
  }
  // a pipe that loses nothing, so that gross head is net head
  const penstock = '{ bore: 1000 m, length: 1 mm, roughness: 0 mm }'

  it.each([
    ['unitSpeed', 38.729833],
    ['unitDischarge', 0.04034358],
    ['unitPower', 0.31661639],
    ['specificSpeed', 7.779162],
    ['powerSpecificSpeed', 21.792764],
  ])('%s is %d (references 5.3)', (figure, expected) => {
    const value = figureOf(figure, readings, { ...sections, penstock })
    expect(Math.abs(value / expected - 1)).toBeLessThan(1e-6)
  })

  const pelton = (jets: number) => ({
    ...sections,
    penstock,
    turbine: `{ kind: pelton, pitchDiameter: 0.4 m, jets: ${jets}, ratedNetHead: 60 m, ratedDischarge: 50 L/s, ratedSpeed: 750 /min }`,
  })
  const open = (jets: number) =>
    Object.fromEntries([1, 2, 3, 4].map((jet) => [`jetOpen.${jet}`, jet <= jets ? '1' : '0']))

  it('of an impulse machine are those of one jet and say so (definition)', () => {
    const of = (figure: string, jets: number) =>
      figureOf(figure, { ...readings, discharge: `${12.5 * jets} L/s`, ...open(jets) }, pelton(4))
    // definition: a quarter of the discharge for each jet, √¼; with two open, half of the power each
    expect(of('jetSpecificSpeed', 4) / (7.779162 / 2)).toBeCloseTo(1, 6)
    expect(of('jetSpecificSpeed', 2) / (7.779162 / 2)).toBeCloseTo(1, 6)
    expect(of('jetPowerSpecificSpeed', 4) / (21.792764 / 2)).toBeCloseTo(1, 6)
    const { plan } = figureBench(pelton(4), { ...readings, ...open(4) })
    expect(plan.indexOf.has('specificSpeed')).toBe(false)
  })

  it('of an impulse machine are not told where nobody knows how many jets are open', () => {
    const { plan } = figureBench(pelton(2), readings)
    expect(plan.indexOf.has('specificSpeed')).toBe(false)
    expect(plan.missing.find(({ id }) => id === 'jetSpecificSpeed')?.needs).toMatch(/jets open/)
  })

  it('are given at the best point alone, which bestPointShare tells (by hand: 40 of 50 L/s)', () => {
    const at = (litres: number, turbine = sections.turbine) =>
      figureBench({ ...sections, turbine, penstock }, { ...readings, discharge: `${litres} L/s` })
    expect(at(40).view('bestPointShare').value).toBeCloseTo(0.8, 12)
    expect(at(40).view('specificSpeed')).toMatchObject({
      value: null,
      reasons: ['the discharge is not within 10 % of that of the best point'],
    })
    const best = sections.turbine.replace('ratedSpeed', 'bestShare: 80 %, ratedSpeed')
    expect(at(40, best).view('bestPointShare').value).toBeCloseTo(1, 12)
    expect(at(40, best).view('specificSpeed').value! / (7.779162 * Math.sqrt(0.8))).toBeCloseTo(1, 6)
    const slow = figureBench({ ...sections, penstock }, { ...readings, speed: '600 /min' })
    expect(slow.view('specificSpeed').reasons).toEqual([
      'the speed is not within 10 % of that of the best point',
    ])
  })
})

describe('where the power goes', () => {
  const P = { activePower: '10 kW', dumpPower: '2 kW' }

  it('useful is what is neither burnt nor used by the plant itself', () => {
    // by hand
    expect(figureOf('usefulShare', P, THREE)).toBeCloseTo(0.8, 12)
    expect(figureOf('usefulShare', { ...P, auxiliaryPower: '0.5 kW' }, THREE)).toBeCloseTo(0.75, 12)
    const idle = figureBench(THREE, { activePower: '0.1 kW', dumpPower: '0 kW' })
    expect(idle.view('usefulShare')).toMatchObject({
      value: null,
      reasons: ['active power is below 2 % of rated'],
    })
  })

  it('unmet is the rating of what is shed, marked as estimated (by hand)', () => {
    const loads = '{ shedPower: 4 kW }'
    const bench = figureBench({ ...THREE, loads }, { 'loadShed.1': '1', 'loadShed.2': '0' })
    expect(bench.view('unmetPower')).toMatchObject({ value: 4000, quality: 'uncertain' })
    expect(bench.view('unmetPower').reasons[0]).toMatch(/^estimated/)
    expect(figureOf('unmetPower', { 'loadShed.1': '0' }, { ...THREE, loads })).toBe(0)
  })

  it('unmet is the rating of all consumers while the frequency is too low', () => {
    const sections = { ...THREE, loads: '{ ratedPower: 9 kW, lowestFrequency: 47 Hz }' }
    expect(figureOf('unmetPower', { frequency: '46.5 Hz' }, sections)).toBe(9000)
    expect(figureOf('unmetPower', { frequency: '50 Hz' }, sections)).toBe(0)
  })

  it('bearings are compared with the air around them (by hand)', () => {
    const readings = {
      'bearingTemperature.1': '41 Cel',
      'bearingTemperature.2': '48.5 Cel',
      ambientTemperature: '18 Cel',
    }
    expect(figureOf('bearingRise', readings, THREE)).toBeCloseTo(30.5, 9)
  })
})
