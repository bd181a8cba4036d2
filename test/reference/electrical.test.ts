import { describe, expect, it } from 'vitest'
import { figureBench, figureOf, type Readings } from '../support/figureBench.ts'
import { checkEach, rpm } from './check.ts'
import { onPhases } from './textbook.ts'

const THREE_PHASE = 'worked number 8.1, computed for the project'
const EXTERNAL = 'external characteristic 8.3, exact'

const machine = (more: string) => ({ generator: `{ ${more} }` })
const THREE = machine('kind: synchronous, polePairs: 2')
const lines = (volts: number, amperes: number, more: Readings = {}) => ({
  'lineVoltage.1': `${volts} V`,
  'phaseCurrent.1': `${amperes} A`,
  ...more,
})
const factor = (value: number) => ({ powerFactor: `${value}` })
const powers = (apparent: number, active: number): Readings => ({
  ...lines(apparent / Math.sqrt(3), 1),
  activePower: `${active} W`,
})
const direct = (volts: number, amperes: number) =>
  figureOf(
    'activePower',
    { dcVoltage: `${volts} V`, dcCurrent: `${amperes} A` },
    machine('kind: directCurrent'),
  )

describe('power', () => {
  checkEach([
    {
      what: 'three-phase active power at 400 V, 10 A, 0.85',
      source: THREE_PHASE,
      got: () => figureOf('activePower', lines(400, 10, factor(0.85)), THREE),
      want: 5888.97275,
    },
    {
      what: 'three-phase active power at 400 V, 151 A, 0.86',
      source: 'Skelderwath data sheet, fictional site, 90.0 kW',
      got: () => figureOf('activePower', lines(400, 151, factor(0.86)), THREE),
      want: 90e3,
      within: 1e-3,
    },
    {
      what: 'three-phase apparent power at 400 V, 10 A',
      source: THREE_PHASE,
      got: () => figureOf('apparentPower', lines(400, 10), THREE),
      want: 6928.20323,
    },
    {
      what: 'three-phase apparent power at 400 V, 24.1 A and pf 0.9 as active power',
      source: 'Ostrelby data sheet, fictional site, 15.0 kW',
      got: () => figureOf('activePower', lines(400, 24.1, factor(0.9)), THREE),
      want: 15e3,
      within: 3e-3,
    },
    {
      what: 'magnitude of the reactive power',
      source: THREE_PHASE,
      got: () => figureOf('nonactivePower', powers(6928.20323, 5888.97275), THREE),
      want: 3649.65752,
    },
    {
      what: 'magnitude of the reactive power of 90 kW at pf 0.86',
      source: 'Skelderwath data sheet, fictional site, 53.4 kvar',
      got: () => figureOf('nonactivePower', powers(90e3 / 0.86, 90e3), THREE),
      want: 53.4e3,
      within: 1e-3,
    },
    {
      what: 'power factor',
      source: THREE_PHASE,
      got: () => figureOf('powerFactor', powers(6928.20323, 5888.97275), THREE),
      want: 0.85,
    },
    {
      what: 'power factor after 35 kvar of compensation',
      source: 'Skelderwath data sheet, fictional site, 0.98',
      got: () => figureOf('powerFactor', powers(Math.hypot(90e3, 53.4e3 - 35e3), 90e3), THREE),
      want: 0.98,
      plusMinus: 0.005,
    },
    {
      what: 'single-phase power at 230 V, 8.7 A, 0.92',
      source: THREE_PHASE,
      got: () =>
        figureOf(
          'activePower',
          { 'phaseVoltage.1': '230 V', 'phaseCurrent.1': '8.7 A', ...factor(0.92) },
          machine('kind: synchronous, phases: 1, polePairs: 2'),
        ),
      want: 1840.92,
    },
    {
      what: 'three phases of 24.7 V and 6.92 A',
      source: 'Quennerby data sheet, fictional rig, 513 W',
      got: () =>
        figureOf(
          'activePower',
          {
            ...onPhases('phaseVoltage', [24.7, 24.7, 24.7], 'V'),
            ...onPhases('phaseCurrent', [6.92, 6.92, 6.92], 'A'),
            ...factor(1),
          },
          THREE,
        ),
      want: 513,
      within: 1e-3,
    },
    { what: 'direct power at 52.5 V, 5 A', source: EXTERNAL, got: () => direct(52.5, 5), want: 262.5 },
    {
      what: 'direct power at 26.4 V, 18.1 A',
      source: 'Quennerby data sheet, fictional rig, 477 W',
      got: () => direct(26.4, 18.1),
      want: 477,
      within: 3e-3,
    },
  ])
  it('has a magnitude of its reactive part whichever way active power flows, and none where S is below |P|', () => {
    // IEC 60050-131: √(S² − P²), 3-4-5 by hand
    expect(figureOf('nonactivePower', powers(5e3, -4e3), THREE)).toBeCloseTo(3e3, 6)
    const said = (apparent: number, active: number) =>
      figureBench(THREE, powers(apparent, active)).view('nonactivePower')
    expect(said(2e3, -3e3)).toMatchObject({
      value: null,
      reasons: ['apparent power is less than active power: one of voltage, current and power is wrong'],
    })
    expect(said(2.01e3, -2e3).reasons).toEqual([
      'apparent and active power are within 1 %: too little to tell',
    ])
  })
  it('is contradictory when active exceeds apparent power, and has no factor without load', () => {
    expect(figureOf('nonactivePower', powers(1, 2), THREE)).toBeNaN()
    expect(figureOf('powerFactor', powers(0, 0), THREE)).toBeNaN()
  })
})

describe('frequency and slip', () => {
  const source = 'worked number 8.2, exact'
  const slip = (hertz: number, speed: number) =>
    figureOf(
      'slip',
      { frequency: `${hertz} Hz`, speed: `${speed} /min` },
      machine('kind: induction, polePairs: 3'),
    )
  checkEach([
    ...(
      [
        [1500, 2, 50],
        [750, 4, 50],
        [1000, 3, 50],
        [1800, 2, 60],
      ] as const
    ).flatMap(([n, pairs, hertz]) => [
      {
        what: `frequency at ${n} min⁻¹ with ${pairs} pole pairs`,
        source,
        got: () =>
          figureOf('frequency', { speed: `${n} /min` }, machine(`kind: synchronous, polePairs: ${pairs}`)),
        want: hertz,
        within: 1e-12,
      },
      {
        what: `synchronous speed at ${hertz} Hz with ${pairs} pole pairs, in min⁻¹`,
        source,
        got: () =>
          figureOf('speed', { frequency: `${hertz} Hz` }, machine(`kind: synchronous, polePairs: ${pairs}`)) /
          rpm(1),
        want: n,
        within: 1e-12,
      },
    ]),
    {
      what: 'slip at 1012 of 1000 min⁻¹',
      source: 'Skelderwath data sheet, fictional site, −1.2 %',
      got: () => slip(50, 1012),
      want: -0.012,
      within: 1e-12,
    },
    {
      what: 'slip close to standstill',
      source: 'definition, 1 at rest; below any speed the figure is blank',
      got: () => slip(50, 1e-9),
      want: 1,
    },
  ])
})

describe('unbalance', () => {
  const currents = (amounts: number[]) =>
    figureOf('currentUnbalance', onPhases('phaseCurrent', amounts, 'A'), THREE)
  const between = (figure: string, amounts: number[]) =>
    figureOf(figure, onPhases('lineVoltage', amounts, 'V'), THREE)
  /** Voltages to neutral with their angles, in degrees. */
  const phasors = (phases: readonly (readonly [volts: number, angle: number])[]): Readings => ({
    ...onPhases(
      'phaseVoltage',
      phases.map(([volts]) => volts),
      'V',
    ),
    ...onPhases(
      'voltageAngle',
      phases.map(([, angle]) => angle - phases[0]![1]),
      'deg',
    ),
  })
  const GONEN = [
    [7.3, 12.5],
    [0.4, -100],
    [4.4, 154],
  ] as const
  // A neutral that is off centre of a triangle of 400 V, by 30 V along phase 1: 260.9 V and twice 217.5 V.
  const OFF_CENTRE = [0, -120, 120].map((angle) => {
    const [x, y] = [231 * Math.cos((angle * Math.PI) / 180) + 30, 231 * Math.sin((angle * Math.PI) / 180)]
    return [Math.hypot(x, y), (Math.atan2(y, x) * 180) / Math.PI] as const
  })
  checkEach([
    {
      what: 'unbalance of 401.3, 401.3, 401.3 V',
      source: 'definition',
      got: () => between('voltageUnbalance', [401.3, 401.3, 401.3]),
      want: 0,
      plusMinus: 1e-12,
    },
    {
      what: 'negative sequence of 401.3, 401.3, 401.3 V',
      source: 'definition',
      got: () => between('negativeSequence', [401.3, 401.3, 401.3]),
      want: 0,
      plusMinus: 1e-12,
    },
    {
      what: 'current unbalance of 10, 10, 13 A',
      source: 'by hand: mean 11, worst 2',
      got: () => currents([10, 10, 13]),
      want: 2 / 11,
    },
    {
      what: 'voltage unbalance of 460, 467, 450 V',
      source: 'NEMA MG 1 classic example, from memory: 9/459 = 1.96 %',
      got: () => between('voltageUnbalance', [460, 467, 450]),
      want: 9 / 459,
      within: 1e-9,
    },
    {
      what: 'negative sequence of 460, 467, 450 V',
      source: 'IEC 61000-4-30, the formula with β written out (from memory)',
      got: () => between('negativeSequence', [460, 467, 450]),
      want: (() => {
        const [a, b, c] = [460 ** 2, 467 ** 2, 450 ** 2]
        const root = Math.sqrt(3 - (6 * (a * a + b * b + c * c)) / (a + b + c) ** 2)
        return Math.sqrt((1 - root) / (1 + root))
      })(),
      within: 1e-9,
    },
    {
      what: 'negative sequence of 7.3 V at 12.5°, 0.4 V at −100° and 4.4 V at 154°',
      source: 'Gönen, Electric Power Transmission, example 9.1, read in a transcription: 2.52 V over 3.97 V',
      got: () => figureOf('negativeSequence', phasors(GONEN), THREE),
      want: 2.52 / 3.97,
      within: 2e-3,
    },
    {
      what: 'negative sequence of a symmetrical machine whose neutral is off centre',
      source: 'Fortescue: a common part of the phase voltages is zero sequence',
      got: () => figureOf('negativeSequence', phasors(OFF_CENTRE), THREE),
      want: 0,
      plusMinus: 1e-7,
    },
    {
      what: 'voltage unbalance of a symmetrical machine whose neutral is off centre',
      source: 'NEMA MG 1 takes the voltages between phases, which are equal',
      got: () => figureOf('voltageUnbalance', phasors(OFF_CENTRE), THREE),
      want: 0,
      plusMinus: 1e-7,
    },
  ])
  it('is not told from voltages to neutral without their angles, and the plant says what it needs', () => {
    const { plan } = figureBench(THREE, onPhases('phaseVoltage', [250, 215, 228], 'V'))
    for (const figure of ['voltageUnbalance', 'negativeSequence'])
      expect(plan.missing.find(({ id }) => id === figure)?.needs).toBe(
        'needs voltage between phases, or angle of a phase voltage to that of phase 1',
      )
  })
  it('is blank with the reason where three voltages close no triangle, and without voltage', () => {
    const reasons = (amounts: number[]) =>
      figureBench(THREE, onPhases('lineVoltage', amounts, 'V')).view('negativeSequence')
    expect(reasons([400, 400, 900])).toMatchObject({
      value: null,
      reasons: ['the three voltages close no triangle: one of them is wrong'],
    })
    expect(reasons([0, 0, 0])).toMatchObject({ value: null, reasons: ['no voltage'] })
  })
})
