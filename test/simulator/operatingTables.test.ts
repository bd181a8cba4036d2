import { describe, expect, it } from 'vitest'
import { designOf } from '../../simulator/design/design.ts'
import type { BusDesign } from '../../simulator/plants/busSide.ts'
import { currentAtVoltage, terminals } from '../../simulator/plants/permanentMagnetGenerator.ts'
import type { PlantDesign } from '../../simulator/plants/plant.ts'
import {
  MILL_AT_PART_LOAD,
  OFF_GRID_BY_SPEARS,
  RIG_AT_CONSTANT_HEAD,
  RIG_VOLTAGE_OVER_CURRENT,
} from '../support/designSheets.ts'
import { idealSite, PER_MINUTE, run, set, truthOf } from './settle.ts'

/** Within 1 %, or within half of the last digit that the sheet gives. */
function expectClose(actual: number, sheet: number, what: string): void {
  const digits = String(sheet).split('.')[1]?.length ?? 0
  const tolerance = Math.max(0.01 * sheet, 0.5 * 10 ** -digits)
  expect(Math.abs(actual - sheet), `${what}: ${actual} against ${sheet}`).toBeLessThanOrEqual(tolerance)
}

const openJets = (jets: number) => ({
  'jet-1': jets >= 1,
  'jet-2': jets >= 2,
  'jet-3': jets >= 3,
  'jet-4': jets >= 4,
})

describe('the ideal rig at a constant head of 24 m', () => {
  it.each(RIG_AT_CONSTANT_HEAD)('gives the row of its sheet with %i jets', (jets, ...row) => {
    const site = idealSite('quennerby')
    set(site, openJets(jets))
    run(site, 40)
    const truth = (quantity: string) => truthOf(site, quantity)
    const charged = truth('batteryPower') + truth('dumpPower') + truth('inverterInputPower')
    const simulated = [
      truth('discharge') * 1000,
      truth('hydraulicPower'),
      truth('turbineEfficiency'),
      truth('shaftPower'),
      truth('torque'),
      truth('phaseVoltage.1'),
      truth('phaseCurrent.1'),
      truth('activePower'),
      truth('generatorEfficiency'),
      charged,
      truth('pumpSpeed'),
      truth('pumpInputPower'),
    ]
    row.forEach((sheet, i) => {
      expectClose(simulated[i]!, sheet, `column ${i + 2}`)
    })
    expectClose(truth('netHead'), 24, 'net head')
    expectClose(truth('speed') / PER_MINUTE, 1500, 'speed')
  })

  it('has a manifold pressure of 2.33 bar at four jets', () => {
    const site = idealSite('quennerby')
    run(site, 20)
    expectClose(truthOf(site, 'inletPressure') / 1e5, 2.33, 'pressure')
  })

  it('delivers 429 W of alternating current from the 477 W of its charger (sheet: inverter 90 % at 70 %)', () => {
    const site = idealSite('quennerby')
    // 240 W of lamps and 200 W of heater are 440 W, the nearest that the switches allow.
    set(site, { lamps: 4, heater: true, motor: false })
    run(site, 5)
    expectClose(truthOf(site, 'inverterOutputPower') / truthOf(site, 'inverterInputPower'), 0.9, 'inverter')
  })
})

describe('the ideal rig with its pump at full speed', () => {
  const table = [
    [1, 34.1, 1.07, 215],
    [2, 31.5, 2.06, 427],
    [3, 27.9, 2.91, 552],
    [4, 24.0, 3.6, 593],
  ] as const
  it.each(table)('gives the row of its sheet with %i jets', (jets, head, discharge, shaft) => {
    const site = idealSite('quennerby')
    set(site, { ...openJets(jets), 'drive-mode': 'fixedSpeed', 'drive-speed': 100 })
    run(site, 40)
    expectClose(truthOf(site, 'netHead'), head, 'head')
    expectClose(truthOf(site, 'discharge') * 1000, discharge, 'discharge')
    expectClose(truthOf(site, 'shaftPower'), shaft, 'shaft power')
    expectClose(truthOf(site, 'speed') / PER_MINUTE, 1500, 'speed')
  })
})

describe('the generator of the rig at 50 Hz', () => {
  const { electrical } = (designOf(idealSite('quennerby').plant) as { design: PlantDesign }).design
  const { machine } = electrical as BusDesign
  it.each(RIG_VOLTAGE_OVER_CURRENT)('has at %d A the voltage of its sheet, %d V', (current, voltage) => {
    expect(terminals(machine, 1500 * PER_MINUTE, { current, conductance: 0 }).voltage).toBeCloseTo(voltage, 1)
  })

  it('finds the current back from the voltage', () => {
    expect(currentAtVoltage(machine, 1500 * PER_MINUTE, 24.68)).toBeCloseTo(7, 1)
  })
})

describe('the ideal off-grid plant', () => {
  it.each(OFF_GRID_BY_SPEARS)(
    'gives the row of its sheet at spears %i and %i %%',
    (first, second, discharge, power, head) => {
      const site = idealSite('ostrelby')
      set(site, { 'spear-1': first, 'spear-2': second, demand: first + second > 150 ? 7 : 2 })
      run(site, 60)
      expectClose(truthOf(site, 'discharge') * 1000, discharge, 'discharge')
      expectClose(truthOf(site, 'activePower') / 1000, power, 'power')
      expectClose(truthOf(site, 'netHead'), head, 'head')
    },
  )

  it('keeps 49 to 51.5 Hz whatever the village does', () => {
    const site = idealSite('ostrelby')
    for (const demand of [0, 4, 12, 17.5, 3]) {
      set(site, { demand })
      run(site, 20)
      expect(truthOf(site, 'frequency')).toBeGreaterThan(49)
      expect(truthOf(site, 'frequency')).toBeLessThan(51.5)
    }
  })

  it('takes what 15 kW cannot give from its battery', () => {
    const site = idealSite('ostrelby')
    set(site, { demand: 17.5 })
    run(site, 20)
    expect(truthOf(site, 'batteryPower')).toBeLessThan(-2000)
    expect(truthOf(site, 'dumpPower')).toBeLessThan(1)
  })
})

describe('the ideal mill at part load', () => {
  it.each(MILL_AT_PART_LOAD)(
    'gives the row of its sheet at %d of rated discharge',
    (share, discharge, head, power, wire) => {
      const site = idealSite('skelderwath')
      // The sheet sets the discharge; the vanes set an opening, which lets more through at more head.
      const opening = 100 * share * Math.sqrt(20 / head)
      // River as much as keeps the weir level of the rated state.
      set(site, { 'vane-1': opening, 'vane-2': opening, river: 0.168 + 0.6324 * share })
      run(site, 60)
      expectClose(truthOf(site, 'discharge'), discharge, 'discharge')
      expectClose(truthOf(site, 'netHead'), head, 'head')
      expectClose(truthOf(site, 'activePower') / 1000, power, 'power')
      expectClose(truthOf(site, 'waterToWireEfficiency'), wire, 'efficiency')
    },
  )

  it('turns at 1012 min⁻¹ and draws 18.4 kvar at full output (53.4 less 35 of the capacitors)', () => {
    const site = idealSite('skelderwath')
    run(site, 10)
    expectClose(truthOf(site, 'speed') / PER_MINUTE, 1012, 'speed')
    expectClose(-truthOf(site, 'reactivePower') / 1000, 18.4, 'reactive power')
    expectClose(truthOf(site, 'powerFactor'), 0.98, 'power factor')
  })
})

describe('the throttle valve of the ideal rig', () => {
  // by hand: K = 2·(50^(2·(1 − a)) − 1), ΔH = K·Q²·10877 s²/m⁵ (2·g·A² of 52.5 mm); with pump (36.0 − 0.708·Q²), lift
  // 0.90 m, pipe 1.90 m and nozzles 24.0 m at 3.605 L/s: Q² = 35.1/(0.708 + 0.146 + 1.847 + 0.010877·K) L²/s²
  it.each([
    [100, 3.605],
    [50, 3.053],
    [40, 2.634],
    [34, 2.327],
  ])('open by %s %% with all jets and the pump at full speed lets %s L/s through', (opening, litres) => {
    const site = idealSite('quennerby')
    set(site, { 'drive-mode': 'fixedSpeed', 'drive-speed': 100, throttle: opening })
    run(site, 20)
    expectClose(truthOf(site, 'discharge') * 1000, litres, 'discharge')
    expectClose(truthOf(site, 'throttleOpening') * 100, opening, 'opening')
  })
})
