import type { Plant } from '../../server/plant/plant.ts'
import type { BusDesign } from '../plants/busSide.ts'
import type { ChargerDesign } from '../plants/charger.ts'
import type { InverterDesign } from '../plants/inverter.ts'
import type { Sources } from './given.ts'
import { magnetDesign } from './magnetDesign.ts'
import { batteryDesign, consumerDesigns, dumpDesign } from './storageDesign.ts'

/** Voltages of a lithium iron phosphate cell [V] at which things begin and end (common practice, no source). */
const CELL = { cutOff: 2.8, restart: 3.15, dumpFrom: 3.475, dumpFull: 3.5, chargeAgain: 3.5, highest: 3.65 }
/** Of the speed regulator, over the machine's acceleration time: crossing [1/s] and integral [1/s²]. */
const CROSSING = 5.5
const INTEGRAL = 8.2
/** [share of rated power, efficiency] of an inverter and its input without load (common practice, no source). */
const INVERTER: [number, number][] = [
  [0.1, 0.83],
  [0.25, 0.89],
  [0.5, 0.9],
  [1, 0.89],
]
const NO_LOAD_INPUT = 0.015

export function busDesign(plant: Plant, sources: Sources): BusDesign {
  const { given, built } = sources
  const battery = batteryDesign(sources)
  const usualDump = { from: CELL.dumpFrom * battery.cells, full: CELL.dumpFull * battery.cells }
  return {
    kind: 'bus',
    machine: magnetDesign(given),
    ratedSpeed: given.need('generator.ratedSpeed'),
    ratedCurrent: given.need('generator.ratedCurrent'),
    charger: chargerDesign(plant, { ...sources, cells: battery.cells }),
    brake: built.overSpeed?.brake,
    resistors: given.need('generator.ratedVoltage') / given.need('generator.ratedCurrent'),
    bus: {
      battery,
      dump: dumpDesign(sources, usualDump),
      inverter: inverterDesign(plant, { ...sources, cells: battery.cells }),
      consumers: consumerDesigns(built),
    },
  }
}

function chargerDesign({ charger }: Plant, sources: Sources & { cells: number }): ChargerDesign {
  const { given, built, cells } = sources
  const batteryVoltage = given.need('battery.ratedVoltage')
  const speed = given.need('generator.ratedSpeed')
  const current = given.need('generator.ratedCurrent')
  const acceleration = (given.need('generator.inertia') * speed ** 2) / given.need('turbine.ratedShaftPower')
  return {
    rectifierEfficiency: charger?.rectifierEfficiency ?? 0.98,
    converterEfficiency: charger?.efficiency ?? 1,
    diodeDrop: charger?.diodeDrop ?? 1.5,
    lowestInput: built.bus?.lowestInput ?? 1.15 * batteryVoltage,
    highestInput: built.bus?.highestInput ?? 6 * given.need('generator.ratedVoltage'),
    highestOutput: built.bus?.highestOutput ?? (1.3 * given.need('generator.ratedPower')) / batteryVoltage,
    highestBattery: CELL.highest * cells,
    restartBattery: CELL.chargeAgain * cells,
    proportional: (CROSSING * acceleration * current) / speed,
    integral: (INTEGRAL * acceleration * current) / speed,
  }
}

function inverterDesign({ inverter }: Plant, sources: Sources & { cells: number }): InverterDesign {
  const { given, built, cells } = sources
  const ratedOutput = given.need('inverter.ratedPower')
  return {
    losses: {
      ratedOutput,
      curve: inverter?.efficiencyCurve ?? INVERTER,
      noLoadLoss: built.bus?.noLoadPower ?? NO_LOAD_INPUT * ratedOutput,
    },
    cutOff: CELL.cutOff * cells,
    restart: CELL.restart * cells,
  }
}
