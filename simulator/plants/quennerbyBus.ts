import { createBattery } from './battery.ts'
import { createInverter, inverterInput } from './inverter.ts'
import type { EnergyBook } from './model.ts'
import { createDumpLoad, createThermalNode } from './parts.ts'
import { BATTERY, DUMP, INVERTER, LOADS, ROOM_TEMPERATURE } from './quennerbyDesign.ts'

export interface BusOrders {
  /** Power that the charger puts in [W]. */
  charge: number
  isDumpInOrder: boolean
  lamps: number
  heater: boolean
  motor: boolean
}

/** Battery bus with dump load and inverter; the battery's voltage is the voltage of all. */
export function createRigBus() {
  const battery = createBattery(BATTERY, 0.62)
  const dump = createDumpLoad(DUMP.regulation)
  const inverter = createInverter(INVERTER)
  const cells = createThermalNode({ capacity: 9000, resistance: 0.8 }, ROOM_TEMPERATURE + 2)
  const element = createThermalNode({ capacity: 900, resistance: 0.22 }, ROOM_TEMPERATURE)
  let orders: BusOrders = { charge: 0, isDumpInOrder: true, lamps: 0, heater: false, motor: false }

  const output = () => {
    const demand =
      orders.lamps * LOADS.lamp + Number(orders.heater) * LOADS.heater + Number(orders.motor) * LOADS.motor
    return inverter.isOn() ? Math.min(demand, INVERTER.ratedPower) : 0
  }
  const inverterPower = () => (inverter.isOn() ? inverterInput(INVERTER, output()) : 0)
  const dumpCurrent = () => (orders.isDumpInOrder ? (dump.duty() * battery.voltage()) / DUMP.resistance : 0)

  return {
    voltage: () => battery.voltage(),
    step(dt: number, next: BusOrders): void {
      orders = next
      const volts = battery.voltage()
      dump.step(dt, volts)
      inverter.step(volts)
      battery.step(dt, (orders.charge - inverterPower()) / volts - dumpCurrent())
      cells.step(dt, battery.loss(), ROOM_TEMPERATURE)
      element.step(dt, dumpCurrent() * volts, ROOM_TEMPERATURE)
    },
    truth(): Record<string, number> {
      const volts = battery.voltage()
      return {
        batteryVoltage: volts,
        batteryCurrent: battery.current(),
        batteryPower: volts * battery.current(),
        batteryTemperature: cells.temperature(),
        stateOfCharge: battery.stateOfCharge(),
        dumpVoltage: volts,
        dumpCurrent: dumpCurrent(),
        dumpPower: volts * dumpCurrent(),
        dumpTemperature: element.temperature(),
        inverterInputVoltage: volts,
        inverterInputCurrent: inverterPower() / volts,
        inverterInputPower: inverterPower(),
        inverterOutputPower: output(),
        'loadOn.1': orders.lamps > 0 ? 1 : 0,
        'loadOn.2': Number(orders.heater),
        'loadOn.3': Number(orders.motor),
      }
    },
    book(): EnergyBook {
      return {
        supplied: orders.charge,
        used: output(),
        lost: {
          battery: battery.loss(),
          dump: dumpCurrent() * battery.voltage(),
          inverter: inverterPower() - output(),
        },
        stored: battery.storedEnergy(),
      }
    },
  }
}
