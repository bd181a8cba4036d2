import { describe, expect, it } from 'vitest'
import { RIG_VOLTAGE_OVER_CURRENT } from '../support/designSheets.ts'
import { figureOf, type Readings } from '../support/figureBench.ts'
import { checkEach } from './check.ts'
import { onPhases } from './textbook.ts'

const EXTERNAL = 'external characteristic 8.3, exact'

/** I, U, P of E 60 V, r 1.5 Ω. */
const LOADS: [number, number, number][] = [
  [0, 60, 0],
  [5, 52.5, 262.5],
  [10, 45, 450],
  [20, 30, 600],
  [40, 0, 0],
]

/** A permanent-magnet machine with this EMF per phase at 1 rad/s, which it runs at. */
const magnet = (emf: number, resistance: number, inductance = 0) => ({
  generator: `{ kind: permanentMagnet, polePairs: 1, voltageConstant: ${emf} V.s/rad, windingResistance: ${resistance} Ohm, windingInductance: ${inductance} H }`,
})
const running = (current: number, more: Readings = {}) => ({
  speed: '1 rad/s',
  ...onPhases('phaseCurrent', [current, current, current], 'A'),
  ...more,
})
const voltage = (current: number) => figureOf('modelledVoltage', running(current), magnet(60, 1.5))
/** At 50 Hz with 2 mH: the reactance of one radian per second that is the same. */
const REACTANCE = 2 * Math.PI * 50 * 0.002
const rigVoltage = (current: number) =>
  figureOf('modelledVoltage', running(current), magnet(27, 0.28, REACTANCE))
const regulation = (noLoad: number, loaded: number) =>
  figureOf(
    'voltageRegulation',
    running(1, onPhases('phaseVoltage', [loaded, loaded, loaded], 'V')),
    magnet(noLoad, 1),
  )
const copperLoss = (current: number, resistance: number) =>
  figureOf('copperLoss', running(current), magnet(1, resistance))

describe('external characteristic', () => {
  checkEach(
    LOADS.flatMap(([current, volts, power]) => [
      {
        what: `voltage at ${current} A`,
        source: EXTERNAL,
        got: () => voltage(current),
        want: volts,
        plusMinus: 1e-12,
      },
      {
        what: `power at ${current} A`,
        source: EXTERNAL,
        got: () =>
          figureOf(
            'activePower',
            { dcVoltage: `${voltage(current)} V`, dcCurrent: `${current} A` },
            { generator: '{ kind: directCurrent }' },
          ),
        want: power,
        plusMinus: 1e-12,
      },
    ]),
  )
  checkEach([
    ...RIG_VOLTAGE_OVER_CURRENT.map(([current, want]) => ({
      what: `phase voltage of the rig's machine at ${current} A`,
      source: 'Quennerby V–I row, fictional rig, computed by an independent script',
      got: () => rigVoltage(current),
      want,
      plusMinus: 0.006,
    })),
    {
      what: 'regulation at 7 A',
      source: 'from the Quennerby V–I row, 27/24.68 − 1',
      got: () => regulation(27, 24.68),
      want: 27 / 24.68 - 1,
    },
    {
      what: 'regulation of 60 V falling to 45 V',
      source: EXTERNAL,
      got: () => regulation(60, 45),
      want: 1 / 3,
    },
    {
      what: 'copper loss at 6.92 A',
      source: 'Quennerby data sheet, fictional rig, 40.2 W',
      got: () => copperLoss(6.92, 0.28),
      want: 40.2,
      plusMinus: 0.05,
    },
    { what: 'copper loss at 10 A in 1 Ω', source: 'by hand', got: () => copperLoss(10, 1), want: 300 },
  ])
  it('gives most power at 20 A, half of the short-circuit current (8.3, exact: 600 W)', () => {
    const power = (current: number) => voltage(current) * current
    expect(power(20)).toBeCloseTo(600, 9)
    expect(Math.max(power(19.9), power(20.1))).toBeLessThan(600)
  })
  it('ends where the reactance takes the whole EMF', () => {
    expect(rigVoltage(50)).toBeNaN()
  })
})
