import { createBattery } from './battery.ts'
import type { EnergyBook } from './model.ts'
import {
  BATTERY,
  DUMP,
  GENERATOR,
  HOUSE_TEMPERATURE,
  MILL,
  STORAGE,
  VILLAGE_POWER_FACTOR,
} from './ostrelbyDesign.ts'
import { createDumpLoad, createThermalNode } from './parts.ts'
import type { PhaseLoad } from './synchronousGenerator.ts'

export interface GridOrders {
  frequency: number
  voltage: number
  /** Demand of the dwellings at rated voltage [W]; 0 when the village is cut off. */
  demand: number
  isMillOn: boolean
  isBatteryOn: boolean
  isDumpInOrder: boolean
}

/** The village's own grid: dwellings, mill, dump load and the battery inverter, all at one voltage. */
export function createVillageGrid() {
  const battery = createBattery(BATTERY, 0.7)
  // Begins where 15 kW are in balance: 7 kW used, 3 kW into the battery, 5 kW into the dump load.
  const dump = createDumpLoad(DUMP.regulation, 5000 / DUMP.power)
  const cells = createThermalNode({ capacity: 150000, resistance: 0.15 }, HOUSE_TEMPERATURE + 3)
  const element = createThermalNode({ capacity: 60000, resistance: 0.0028 }, HOUSE_TEMPERATURE + 14)
  let storage = STORAGE.charge.power
  let orders: GridOrders = {
    frequency: 50.4,
    voltage: GENERATOR.ratedVoltage,
    demand: 7000,
    isMillOn: false,
    isBatteryOn: true,
    isDumpInOrder: true,
  }

  /** Power follows the voltage squared, as heaters and lamps do. */
  const voltageShare = () => (orders.voltage / GENERATOR.ratedVoltage) ** 2
  const dumpRating = () => (orders.isDumpInOrder ? dump.duty() * DUMP.power : 0)
  const millRating = () => (orders.isMillOn ? MILL.power : 0)
  const villagePower = () => (orders.demand + millRating()) * voltageShare()

  function wantedStorage(): number {
    if (!orders.isBatteryOn || orders.frequency < 40) return 0
    const { charge, discharge } = STORAGE
    if (orders.frequency > charge.from) {
      // Charging tapers off over the last tenth.
      const room = Math.min(1, Math.max(0, (1 - battery.stateOfCharge()) / 0.1))
      return share(orders.frequency, charge.from, charge.full) * charge.power * room
    }
    if (battery.stateOfCharge() < 0.1) return 0
    return -share(orders.frequency, discharge.from, discharge.full) * discharge.power
  }

  /** Into the battery at its terminals [W]; the inverter's loss counts against it both ways. */
  const batteryPower = () => {
    const power = storage * voltageShare()
    return power > 0 ? power * STORAGE.efficiency : power / STORAGE.efficiency
  }

  return {
    /** Admittance of one phase: everything between the generator and neutral. */
    load(): PhaseLoad {
      const squared = 3 * GENERATOR.ratedVoltage ** 2
      const reactive =
        orders.demand * tangent(VILLAGE_POWER_FACTOR) + millRating() * tangent(MILL.powerFactor)
      return {
        conductance: (orders.demand + millRating() + dumpRating() + storage) / squared,
        susceptance: reactive / squared,
      }
    },
    step(dt: number, next: GridOrders): void {
      orders = next
      dump.step(dt, orders.frequency)
      storage += ((wantedStorage() - storage) * dt) / STORAGE.lag
      battery.step(dt, batteryPower() / battery.voltage())
      cells.step(dt, battery.loss(), HOUSE_TEMPERATURE)
      element.step(dt, dumpRating() * voltageShare(), HOUSE_TEMPERATURE)
    },
    truth(): Record<string, number> {
      return {
        loadPower: villagePower(),
        dumpPower: dumpRating() * voltageShare(),
        dumpTemperature: element.temperature(),
        batteryVoltage: battery.voltage(),
        batteryCurrent: battery.current(),
        batteryPower: battery.voltage() * battery.current(),
        batteryTemperature: cells.temperature(),
        stateOfCharge: battery.stateOfCharge(),
      }
    },
    book(): EnergyBook {
      const atGrid = storage * voltageShare()
      return {
        supplied: villagePower() + dumpRating() * voltageShare() + atGrid,
        used: villagePower(),
        lost: {
          dump: dumpRating() * voltageShare(),
          inverter: Math.abs(atGrid - batteryPower()),
          battery: battery.loss(),
        },
        stored: battery.storedEnergy(),
      }
    },
  }
}

function share(value: number, from: number, full: number): number {
  return Math.min(1, Math.max(0, (value - from) / (full - from)))
}

function tangent(powerFactor: number): number {
  return Math.sqrt(1 - powerFactor ** 2) / powerFactor
}
