import { describe, expect, it } from 'vitest'
import { figureBench, figureOf } from '../../../support/figureBench.ts'

// "references n.m" is a section of test/reference/README.md.
describe('properties of the place', () => {
  const any = { headwaterLevel: '1 m' }

  it.each([
    [10, 999.7027, 1.30629e-6],
    [20, 998.2067, 1.0034e-6],
  ])(
    'at %d °C water weighs %d kg/m³ and has a viscosity of %d m²/s (references 1.1)',
    (celsius, density, viscosity) => {
      for (const bench of [
        figureBench({ site: `waterTemperature: ${celsius} Cel` }, any),
        figureBench({}, { waterTemperature: `${celsius} Cel` }),
      ]) {
        expect(bench.view('waterDensity').value).toBeCloseTo(density, 3)
        expect(bench.view('kinematicViscosity').value! / viscosity).toBeCloseTo(1, 3)
      }
    },
  )

  it('gravity is that of the plant file, of latitude and altitude, or standard (references 2.1, 2.3, 2.4)', () => {
    expect(figureOf('gravity', any, { site: 'gravity: 9.81 m/s2, latitude: 45 deg' })).toBe(9.81)
    expect(figureOf('gravity', any, { site: 'latitude: 45 deg, altitude: 1000 m' })).toBeCloseTo(9.803218, 6)
    expect(figureOf('gravity', any)).toBe(9.80665)
  })
})

describe('the net head of an impulse machine', () => {
  it.each([
    // references 3.2 a, b, c
    ['480 kPa', '12 L/s', '100 mm', 0.35, 999.1, 9.8066, 49.459743, 5815.145],
    ['250 kPa', '3.5 L/s', '50 mm', 0.2, 999.7, 9.81, 25.853796, 887.424],
    ['1.2 MPa', '150 L/s', '250 mm', 1.1, 1000, 9.8, 124.025396, 182_317.33],
  ])(
    'at %s and %s in %s, %d m up, with %d kg/m³ and %d m/s² is %d m',
    (pressure, flow, bore, rise, rho, g, head, power) => {
      const bench = figureBench(
        {
          site: `gravity: ${g} m/s2, waterDensity: ${rho} kg/m3, elevations: { turbine: 100 m, inletGauge: ${100 + rise} m }`,
          turbine: `{ kind: pelton, inletBore: ${bore} }`,
        },
        { inletPressure: pressure, discharge: flow },
      )
      expect(bench.view('netHead').value! / head).toBeCloseTo(1, 6)
      expect(bench.view('hydraulicPower').value! / power).toBeCloseTo(1, 6)
    },
  )
})

describe('the way of the water to the machine', () => {
  const sections = {
    use: 'offGrid',
    site: 'gravity: 9.81 m/s2, waterDensity: 1000 kg/m3, waterTemperature: 10 Cel, elevations: { turbine: 40 m, headwaterZero: 98 m }',
    turbine: '{ kind: pelton, ratedDischarge: 0.150 m3/s }',
    penstock: '{ bore: 0.30 m, length: 250 m, roughness: 0.15 mm, minorLoss: 1.1, waveSpeed: 1179.4248 m/s }',
    licence: '{ maximumDischarge: 0.2 m3/s, handsOffFlow: 0.1 m3/s }',
  }
  const readings = { headwaterLevel: '2 m', rackUpstreamLevel: '2.09 m', discharge: '0.150 m3/s' }

  it.each<[figure: string, expected: number, within: number, source: string]>([
    // the viscosity of 10 °C is that of the example within 1e-4
    ['modelledHeadLoss', 3.382595 + 0.252471, 1e-4, 'references 4.3'],
    ['grossHead', 60, 1e-9, 'by hand'],
    ['headLoss', 3.382595 + 0.252471, 1e-4, 'references 4.3'],
    ['surgeHead', 255.13327, 0.01, 'references 6.2, at 2.1221 m/s'],
    ['waterStartTime', (250 * 2.122066) / (9.81 * (60 - 3.635066)), 1e-4, 'by hand, L·v/(g·H)'],
    ['availablePower', 1000 * 9.81 * 0.15 * 60, 1e-6, 'references 3.3, three times 29.43 kW'],
    ['rackDifferential', 0.09, 1e-12, 'by hand'],
    ['rackCoefficient', 4, 1e-9, 'by hand: 0.09/0.15²'],
    ['licenceShare', 0.75, 1e-12, 'by hand'],
  ])('%s is %d (within %d; %s)', (figure, expected, within) => {
    expect(Math.abs(figureOf(figure, readings, sections) - expected)).toBeLessThanOrEqual(within)
  })

  it('lossCoefficient is told by a gauge (references 4.3, over Q²) and not by the model alone', () => {
    const site = sections.site.replace('turbine: 40 m', 'turbine: 40 m, inletGauge: 40 m')
    const gauge = { ...readings, inletPressure: `${9810 * (60 - 3.635066)} Pa` }
    const told = figureOf('lossCoefficient', gauge, { ...sections, site })
    expect(told).toBeCloseTo(3.635066 / 0.0225, 6)
    const { plan } = figureBench(sections, readings)
    expect(plan.indexOf.has('lossCoefficient')).toBe(false)
    expect(plan.missing.find(({ id }) => id === 'lossCoefficient')?.needs).toBe(
      'needs turbine inlet pressure',
    )
  })

  it('residualShare is residual flow over what the licence demands (by hand)', () => {
    expect(figureOf('residualShare', { residualFlow: '0.15 m3/s' }, sections)).toBeCloseTo(1.5, 12)
  })

  it('lossShare is head loss over gross head (references 4.3 over 60 m)', () => {
    expect(figureOf('lossShare', readings, sections)).toBeCloseTo(3.635066 / 60, 6)
  })
})

describe('speed, frequency and phases', () => {
  const sections = { generator: '{ kind: synchronous, polePairs: 2, ratedFrequency: 50 Hz }' }

  it.each([
    // references 8.2
    [1500, 2, 50],
    [750, 4, 50],
    [1000, 3, 50],
    [1800, 2, 60],
  ])(
    '%d min⁻¹ with %d pole pairs is a frequency of %d Hz, and the other way round',
    (speed, pairs, hertz) => {
      const machine = { generator: `{ kind: synchronous, polePairs: ${pairs} }` }
      expect(figureOf('frequency', { speed: `${speed} /min` }, machine)).toBeCloseTo(hertz, 9)
      expect((figureOf('speed', { frequency: `${hertz} Hz` }, machine) * 30) / Math.PI).toBeCloseTo(speed, 9)
    },
  )

  it('frequencyResidual tells a speed that does not fit the frequency', () => {
    // by hand: 1530 min⁻¹ would be 51 Hz
    expect(figureOf('frequencyResidual', { speed: '1530 /min', frequency: '50 Hz' }, sections)).toBeCloseTo(
      1,
      12,
    )
  })

  it('turbineSpeed is that of the generator over the ratio of the drive', () => {
    // design sheet of Skelderwath: 1012 min⁻¹, belt 2.846 : 1, 355.6 min⁻¹
    const belt = { turbine: '{ kind: crossflow, driveRatio: 2.846 }' }
    expect((figureOf('turbineSpeed', { speed: '1012 /min' }, belt) * 30) / Math.PI).toBeCloseTo(355.6, 1)
  })

  it('voltageUnbalance and currentUnbalance are the largest departure from the mean, negativeSequence that of IEC', () => {
    // by hand: mean 11, departure 2
    const uneven = (name: string, unit: string) =>
      Object.fromEntries([10, 10, 13].map((amount, k) => [`${name}.${k + 1}`, `${amount} ${unit}`]))
    expect(figureOf('voltageUnbalance', uneven('lineVoltage', 'V'), sections)).toBeCloseTo(2 / 11, 12)
    // IEC 61000-4-30 with β = (2·10⁴ + 13⁴)/(2·10² + 13²)², from memory
    const root = Math.sqrt(3 - (6 * (2e4 + 13 ** 4)) / (200 + 169) ** 2)
    const ratio = figureOf('negativeSequence', uneven('lineVoltage', 'V'), sections)
    expect(ratio).toBeCloseTo(Math.sqrt((1 - root) / (1 + root)), 12)
    expect(figureOf('currentUnbalance', uneven('phaseCurrent', 'A'), sections)).toBeCloseTo(2 / 11, 12)
  })
})

describe('direct-current powers', () => {
  it.each([
    ['rectifierPower', 'dcVoltage', 'dcCurrent'],
    ['batteryPower', 'batteryVoltage', 'batteryCurrent'],
    ['dumpPower', 'dumpVoltage', 'dumpCurrent'],
    ['inverterInputPower', 'inverterInputVoltage', 'inverterInputCurrent'],
  ])('%s is voltage times current, with its sign (by hand)', (figure, voltage, current) => {
    expect(figureOf(figure, { [voltage]: '26.4 V', [current]: '-18.1 A' })).toBeCloseTo(-477.84, 9)
  })

  it('usefulPower and dumpShare tell apart what is burnt (by hand)', () => {
    const powers = { activePower: '10 kW', dumpPower: '2.5 kW' }
    expect(figureOf('usefulPower', powers)).toBe(7500)
    expect(figureOf('dumpShare', powers)).toBe(0.25)
  })
})
