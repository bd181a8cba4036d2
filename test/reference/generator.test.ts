import { describe, expect, it } from 'vitest'
import {
  californianEfficiency,
  copperLoss,
  europeanEfficiency,
  greatestTerminalPower,
  inverterPartLoad,
  magnetMachineVoltage,
  terminalPower,
  terminalVoltage,
  voltageRegulation,
} from '../../server/physics/index.ts'
import { RIG_VOLTAGE_OVER_CURRENT } from '../support/designSheets.ts'
import { checkEach } from './check.ts'

const EXTERNAL = 'external characteristic 8.3, exact'

/** I, U, P of E 60 V, r 1.5 Ω. */
const LOADS: [number, number, number][] = [
  [0, 60, 0],
  [5, 52.5, 262.5],
  [10, 45, 450],
  [20, 30, 600],
  [40, 0, 0],
]
const REACTANCE = 2 * Math.PI * 50 * 0.002

describe('external characteristic', () => {
  checkEach(
    LOADS.flatMap(([current, voltage, power]) => [
      {
        what: `voltage at ${current} A`,
        source: EXTERNAL,
        got: () => terminalVoltage(60, 1.5, current),
        want: voltage,
        plusMinus: 1e-12,
      },
      {
        what: `power at ${current} A`,
        source: EXTERNAL,
        got: () => terminalPower(60, 1.5, current),
        want: power,
        plusMinus: 1e-12,
      },
    ]),
  )
  checkEach([
    { what: 'greatest power', source: EXTERNAL, got: () => greatestTerminalPower(60, 1.5), want: 600 },
    {
      what: 'greatest power as the peak of the curve',
      source: EXTERNAL,
      got: () => greatestTerminalPower(10, 5),
      want: terminalPower(10, 5, 1),
    },
    ...RIG_VOLTAGE_OVER_CURRENT.map(([current, want]) => ({
      what: `phase voltage of the rig's machine at ${current} A`,
      source: 'Quennerby V–I row, fictional rig, computed by an independent script',
      got: () => magnetMachineVoltage(27, 0.28, REACTANCE, current),
      want,
      plusMinus: 0.006,
    })),
    {
      what: 'regulation at 7 A',
      source: 'from the Quennerby V–I row, 27/24.68 − 1',
      got: () => voltageRegulation(27, 24.68),
      want: 27 / 24.68 - 1,
    },
    {
      what: 'regulation of 60 V falling to 45 V',
      source: EXTERNAL,
      got: () => voltageRegulation(60, 45),
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
  it('ends where the reactance takes the whole EMF', () => {
    expect(magnetMachineVoltage(27, 0.28, REACTANCE, 50)).toBeNaN()
  })
})

describe('inverter efficiency', () => {
  const weighted = 'worked number 8.4, weights from memory'
  checkEach([
    {
      what: 'European weighted efficiency',
      source: weighted,
      got: () => europeanEfficiency(0.85, 0.9, 0.93, 0.945, 0.95, 0.94),
      want: 0.9389,
    },
    {
      what: 'European weighted efficiency of a flat curve',
      source: 'weights sum to 1',
      got: () => europeanEfficiency(0.9, 0.9, 0.9, 0.9, 0.9, 0.9),
      want: 0.9,
    },
    {
      what: 'Californian weighted efficiency',
      source: weighted,
      got: () => californianEfficiency(0.9, 0.93, 0.945, 0.95, 0.948, 0.94),
      want: 0.94484,
    },
    {
      what: 'Californian weighted efficiency of a flat curve',
      source: 'weights sum to 1',
      got: () => californianEfficiency(0.9, 0.9, 0.9, 0.9, 0.9, 0.9),
      want: 0.9,
    },
    ...(
      [
        [0.1, 0.9216279],
        [0.5, 0.9621916],
        [1, 0.96],
      ] as const
    ).map(([load, want]) => ({
      what: `part-load efficiency at ${load}`,
      source: 'US national laboratory manual version 5, read in a library documentation, computed',
      got: () => inverterPartLoad(load, 0.96),
      want,
      within: 1e-5,
    })),
  ])
  it('has no value without load', () => {
    expect(inverterPartLoad(0, 0.96)).toBeNaN()
  })
})
