import type { Plant } from '../../server/plant/plant.ts'
import type { GridBatteryDesign } from '../plants/gridBattery.ts'
import type { IslandDesign } from '../plants/islandSide.ts'
import type { Sources } from './given.ts'
import { lossesOf } from './losses.ts'
import { magnetDesign } from './magnetDesign.ts'
import { batteryDesign, consumerDesigns, dumpDesign } from './storageDesign.ts'

/** Reactances as shares of rated impedance (common practice, no source). */
const REACTANCE = { synchronous: 1.5, transient: 0.15 }
/** Shares of rated frequency (common practice, no source). */
const DUMP = { from: 1, full: 1.03 }
const FEEDER = { lowest: 0.92, reconnect: 0.97, lost: 0.8 }
/** One way, and response [s], of a battery inverter. */
const INVERTER = { efficiency: 0.95, lag: 0.03 }

export function islandDesign(plant: Plant, sources: Sources): IslandDesign {
  const { given, built } = sources
  const frequency = given.need('generator.ratedFrequency')
  const ratedVoltage = given.need('generator.ratedVoltage')
  const ratedSpeed = given.need('generator.ratedSpeed')
  const { feeder = 'feeder', lowest, delay = 1, reconnect } = built.island ?? {}
  return {
    kind: 'island',
    machine: machineDesign(plant, sources),
    polePairs: given.need('generator.polePairs'),
    ratedSpeed,
    ratedVoltage,
    ratedPower: given.need('generator.ratedPower'),
    consumers: consumerDesigns(built),
    feeder: {
      id: feeder,
      lowest: lowest ?? FEEDER.lowest * frequency,
      delay,
      reconnect: reconnect ?? FEEDER.reconnect * frequency,
      lost: FEEDER.lost * frequency,
    },
    dump: dumpDesign(sources, { from: DUMP.from * frequency, full: DUMP.full * frequency }),
    battery: plant.battery && gridBatteryDesign(sources),
    airTemperature: built.airTemperature,
  }
}

function machineDesign(plant: Plant, sources: Sources): IslandDesign['machine'] {
  const { given, built } = sources
  const ratedSpeed = given.need('generator.ratedSpeed')
  if (plant.generator?.kind === 'permanentMagnet')
    return { kind: 'permanentMagnet', electrical: magnetDesign(given), ratedSpeed }
  const ratedVoltage = given.need('generator.ratedVoltage')
  return {
    kind: 'synchronous',
    electrical: {
      ratedVoltage,
      ratedSpeed,
      ...reactancesOf(sources),
      fieldTimeConstant: built.generator.fieldTime,
    },
    losses: lossesOf(plant, sources),
  }
}

/** Of a synchronous machine, per phase [Ω]. */
export function reactancesOf({ given, built }: Sources) {
  const impedance = given.need('generator.ratedVoltage') / given.need('generator.ratedCurrent')
  const { synchronousReactance, transientReactance } = built.generator
  return {
    synchronousReactance: synchronousReactance ?? REACTANCE.synchronous * impedance,
    transientReactance: transientReactance ?? REACTANCE.transient * impedance,
  }
}

function gridBatteryDesign(sources: Sources): GridBatteryDesign {
  const { given, built } = sources
  const frequency = given.need('generator.ratedFrequency')
  const power = given.need('inverter.ratedPower')
  return {
    battery: batteryDesign(sources),
    charge: built.island?.charge ?? { from: frequency, full: 1.004 * frequency, power: 0.3 * power },
    discharge: built.island?.discharge ?? { from: 0.996 * frequency, full: 0.98 * frequency, power },
    ...INVERTER,
  }
}
