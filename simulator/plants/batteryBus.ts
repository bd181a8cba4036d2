import { type BatteryDesign, createBattery } from './battery.ts'
import { type ConsumerDesign, createConsumers } from './consumers.ts'
import { createInverter, type InverterDesign } from './inverter.ts'
import type { EnergyBook, Setting } from './model.ts'
import { createDumpLoad, type DumpDesign } from './parts.ts'

export interface BatteryBusDesign {
  battery: BatteryDesign
  /** Its regulation is over the bus voltage [V]. */
  dump: DumpDesign
  inverter: InverterDesign
  consumers: readonly ConsumerDesign[]
}

/** Battery bus with dump load and inverter; the battery's voltage is the voltage of all. */
export function createBatteryBus(design: BatteryBusDesign, random: (() => number) | undefined) {
  const battery = createBattery(design.battery)
  const dump = createDumpLoad(design.dump, { duty: 0, air: design.battery.airTemperature })
  const inverter = createInverter(design.inverter)
  const consumers = createConsumers(design.consumers, random)
  const dumpConductance = design.dump.power / design.dump.full ** 2
  let isDumpInOrder = true
  let charge = 0

  const output = () => (inverter.isOn() ? Math.min(consumers.power(), design.inverter.losses.ratedOutput) : 0)
  const dumpCurrent = () => (isDumpInOrder ? dump.duty() * battery.voltage() * dumpConductance : 0)

  return {
    settings: { ...consumers.settings, dump: true },
    voltage: battery.voltage,
    /** @param into Power that the charger puts in [W]. */
    step(dt: number, settings: Readonly<Record<string, Setting>>, into: number): void {
      charge = into
      isDumpInOrder = settings['dump'] === true
      consumers.step(dt, settings)
      const volts = battery.voltage()
      dump.step(dt, volts, dumpCurrent() * volts)
      inverter.step(volts)
      battery.step(dt, (charge - inverter.input(output())) / volts - dumpCurrent())
    },
    truth(): Record<string, number> {
      const volts = battery.voltage()
      const input = inverter.input(output())
      return {
        ...battery.truth(),
        dumpVoltage: volts,
        dumpCurrent: dumpCurrent(),
        dumpPower: volts * dumpCurrent(),
        dumpTemperature: dump.temperature(),
        inverterInputVoltage: volts,
        inverterInputCurrent: input / volts,
        inverterInputPower: input,
        inverterOutputPower: output(),
        loadPower: output(),
        ...consumers.truth(),
      }
    },
    book: (): EnergyBook => ({
      supplied: charge,
      used: output(),
      lost: {
        battery: battery.loss(),
        dump: dumpCurrent() * battery.voltage(),
        inverter: inverter.input(output()) - output(),
      },
      stored: battery.storedEnergy(),
    }),
  }
}
