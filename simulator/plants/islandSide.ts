import { type ConsumerDesign, createConsumers } from './consumers.ts'
import type { ElectricalOrders, ElectricalSide } from './electricalSide.ts'
import { createGridBattery, type GridBatteryDesign } from './gridBattery.ts'
import {
  createMagnetMachine,
  createSynchronousMachine,
  type MagnetMachineDesign,
  type SynchronousMachineDesign,
} from './islandMachine.ts'
import { onThreePhases } from './model.ts'
import { createDumpLoad, createTripSwitch, type DumpDesign } from './parts.ts'
import type { PhaseLoad } from './synchronousGenerator.ts'

export interface IslandDesign {
  kind: 'island'
  machine: SynchronousMachineDesign | MagnetMachineDesign
  polePairs: number
  ratedSpeed: number
  /** Of a phase [V], and [W]. */
  ratedVoltage: number
  ratedPower: number
  consumers: readonly ConsumerDesign[]
  /** Cut off below a frequency [Hz] for so long [s], and connected again above another; id of its control. */
  feeder: { id: string; lowest: number; delay: number; reconnect: number; lost: number }
  /** Its regulation is over frequency [Hz]. */
  dump: DumpDesign
  battery: GridBatteryDesign | undefined
  airTemperature: number
}

/** A grid of its own: the dump load holds the frequency, a battery may help. Power follows the voltage squared. */
export function createIslandSide(design: IslandDesign, random: (() => number) | undefined): ElectricalSide {
  const consumers = createConsumers(design.consumers, random)
  const battery = design.battery && createGridBattery(design.battery)
  const settings = {
    ...consumers.settings,
    [design.feeder.id]: true,
    dump: true,
    ...(battery ? { battery: true } : {}),
  }
  consumers.step(0, settings)
  const surplus = design.ratedPower - consumers.power() - (battery?.rating() ?? 0)
  const dump = createDumpLoad(design.dump, {
    duty: Math.min(1, Math.max(0, surplus / design.dump.power)),
    air: design.airTemperature,
  })
  const underFrequency = createTripSwitch(design.feeder.delay)
  let isFeederOn = true
  let isDumpInOrder = true
  let frequency = 0
  let energy = 0
  let torque = design.ratedPower / design.ratedSpeed

  const dumpRating = () => (isDumpInOrder ? dump.duty() * design.dump.power : 0)
  /** Admittance of one phase: everything between the generator and neutral. */
  function admittance(): PhaseLoad {
    const squared = 3 * design.ratedVoltage ** 2
    return {
      conductance: (consumers.power() + dumpRating() + (battery?.rating() ?? 0)) / squared,
      susceptance: consumers.reactive() / squared,
    }
  }
  let present = admittance()
  const load = () => present
  const machine =
    design.machine.kind === 'synchronous'
      ? createSynchronousMachine(design.machine, load)
      : createMagnetMachine(design.machine, load)
  const voltageShare = () => (machine.voltage() / design.ratedVoltage) ** 2

  function stepFeeder(dt: number, isWanted: boolean): void {
    const { lowest, reconnect, lost } = design.feeder
    underFrequency.step(dt, isFeederOn && isWanted && frequency < lowest)
    if (underFrequency.isTripped() || !isWanted || frequency < lost) isFeederOn = false
    else if (frequency > reconnect) isFeederOn = true
  }

  function stepNetwork(dt: number, orders: ElectricalOrders): void {
    stepFeeder(dt, orders.settings[design.feeder.id] === true)
    isDumpInOrder = orders.settings['dump'] === true
    consumers.step(dt, orders.settings, isFeederOn)
    dump.step(dt, frequency, dumpRating() * voltageShare())
    battery?.step(dt, {
      // It would drive a stopped machine as a motor.
      isOn: orders.settings['battery'] === true && !orders.isStopped,
      frequency,
      voltageShare: voltageShare(),
    })
    present = admittance()
  }

  return {
    settings,
    // A load takes power; what it takes at this speed is a torque that changes little within a step.
    torque: () => torque,
    power: machine.power,
    loadLoss: machine.loadLoss,
    trips: () => [underFrequency.isTripped()],
    wantsStop: () => false,
    mostOpening: () => 1,
    reset: () => underFrequency.reset(),
    step(dt, orders) {
      frequency = (design.polePairs * orders.speed) / (2 * Math.PI)
      machine.step(dt, orders.speed)
      energy += machine.power() * dt
      stepNetwork(dt, orders)
      const taken = machine.power() + machine.loadLoss()
      torque = taken === 0 ? 0 : taken / orders.speed
    },
    truth() {
      const { conductance, susceptance } = load()
      const admittance = Math.hypot(conductance, susceptance)
      return {
        activePower: machine.power(),
        powerFactor: admittance > 0 ? conductance / admittance : 1,
        frequency,
        energyMeter: energy,
        ...onThreePhases(machine.voltage(), machine.current()),
        loadPower: consumers.power() * voltageShare(),
        dumpPower: dumpRating() * voltageShare(),
        dumpTemperature: dump.temperature(),
        ...battery?.truth(),
        ...consumers.truth(),
      }
    },
    book: () => ({
      supplied: machine.power() + machine.loadLoss(),
      used: consumers.power() * voltageShare(),
      lost: {
        generator: machine.loadLoss(),
        dump: dumpRating() * voltageShare(),
        ...battery?.lost(),
      },
      stored: battery?.stored() ?? 0,
    }),
  }
}
