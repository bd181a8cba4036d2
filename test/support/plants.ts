import { printFault, readPlant } from '../../server/plant/load.ts'
import type { Plant, PlantFault } from '../../server/plant/plant.ts'

/** What a plant file begins with, where a test has no wish of its own. */
const HEAD = {
  headrace: '1',
  id: 'mill',
  name: 'Mill',
  use: 'offGrid',
  site: '{ timeZone: UTC }',
}

/** The text of a plant file with the lines of the usual head that are missing in it. */
export function plantText(text: string): string {
  const missing = Object.entries(HEAD).filter(([key]) => !new RegExp(`^${key}:`, 'm').test(text))
  return [...missing.map(([key, value]) => `${key}: ${value}`), text].join('\n')
}

/** A plant from the text of its file, head left out or not; throws with every fault, since a test's own must be right. */
export function plantOf(text: string, file = 'test.yaml'): Plant {
  const result = readPlant(plantText(text), file)
  if ('plant' in result) return result.plant
  throw new Error(result.faults.map((fault) => printFault(file, fault)).join('\n'))
}

/** What is wrong with the whole text of a plant file; empty where nothing is. */
export function faultsOfPlant(text: string): PlantFault[] {
  const result = readPlant(text, 'test.yaml')
  return 'faults' in result ? result.faults : []
}

/** The smallest plant worth watching: inlet pressure, flow and power of an impulse machine. */
export const THREE_SENSORS = `
headrace: 1
id: mill
name: Test mill
use: offGrid
site:
  timeZone: Europe/London
  gravity: 9.81 m/s2
  waterDensity: 1000 kg/m3
  elevations: { turbine: 100 m, inletGauge: 100.35 m }
turbine: { kind: pelton, inletBore: 100 mm, ratedNetHead: 50 m, ratedDischarge: 12 L/s }
generator: { kind: synchronous, polePairs: 2, ratedPower: 4 kW, ratedSpeed: 1500 /min }
instruments:
  - { id: gauge, role: inletPressure, topic: mill/pressure, unit: bar, range: [0, 10], accuracy: { span: 0.25 % } }
  - { id: meter, role: discharge, topic: mill/flow, unit: L/s, range: [0, 20], accuracy: { reading: 1 % } }
  - { id: power, role: activePower, topic: mill/power, unit: kW, range: [0, 5], accuracy: { reading: 0.5 % } }
`

export function threeSensorPlant(): Plant {
  return plantOf(THREE_SENSORS)
}

/** What the trials with traces need, and no more: a magnet generator on a battery, with one jet. */
export const TRACE_RIG = `
id: bench
name: Bench
use: rig
turbine: { kind: pelton, ratedSpeed: 1500 /min }
generator:
  kind: permanentMagnet
  polePairs: 2
  ratedPower: 500 W
  ratedCurrent: 7 A
  ratedSpeed: 1500 /min
  inertia: 0.02 kg.m2
  voltageConstant: 18 mV/{rpm}
  windingResistance: 0.28 Ohm
  efficiencyCurve: [[0.18, 0.69], [1, 0.865]]
battery: { ratedCharge: 50 A.h, ratedVoltage: 25.6 V }
instruments:
  - { id: speed, role: speed, topic: b/speed, unit: /min, period: 50 ms, staleAfter: 60 s }
  - { id: jet-1, role: jetOpen.1, topic: b/jet, unit: "1", periodic: false }
  - { id: current-1, role: phaseCurrent.1, topic: b/current, unit: A, period: 200 ms, staleAfter: 60 s }
  - { id: battery-voltage, role: batteryVoltage, topic: b/u, unit: V, period: 500 ms, staleAfter: 60 s }
  - { id: battery-current, role: batteryCurrent, topic: b/i, unit: A, period: 500 ms, staleAfter: 60 s }
`
