import { type BatteryBusDesign, createBatteryBus } from './batteryBus.ts'
import { type ChargerDesign, createCharger, rectifiedVoltage } from './charger.ts'
import type { ElectricalSide } from './electricalSide.ts'
import { joinBooks, onThreePhases } from './model.ts'
import { currentTorque, type PermanentMagnetDesign, terminals } from './permanentMagnetGenerator.ts'

export interface BusDesign {
  kind: 'bus'
  machine: PermanentMagnetDesign
  ratedSpeed: number
  /** Of a phase [A]. */
  ratedCurrent: number
  charger: ChargerDesign
  /** Resistors [Ω] in star that a stop puts on the terminals. */
  brake: number | undefined
  /** Adjustable resistors [Ω] in star that a person can put there, as they stand at first. */
  resistors: number
  bus: BatteryBusDesign
}

/**
 * Permanent-magnet machine, rectifier and charge controller on a battery bus. With the controller off and resistors on the
 * terminals nothing holds the speed: it is where the torques meet, and whoever sets resistors or water holds it by hand.
 */
export function createBusSide(design: BusDesign, random: (() => number) | undefined): ElectricalSide {
  const { machine } = design
  const share = design.charger.rectifierEfficiency * design.charger.converterEfficiency
  const charger = createCharger(design.charger, machine, design.ratedCurrent)
  const bus = createBatteryBus(design.bus, random)
  let speed = design.ratedSpeed
  let brake = 0
  let resistors = 0

  const load = () => ({ current: charger.current(), conductance: brake + resistors })
  const output = () => terminals(machine, speed, load())
  const intoCharger = (voltage: number) => 3 * voltage * charger.current()

  return {
    settings: {
      ...bus.settings,
      charger: true,
      'speed-set': design.ratedSpeed,
      'load-bank': false,
      'load-resistance': design.resistors,
    },
    torque: (at) => currentTorque(machine, terminals(machine, at, load()).current),
    power() {
      const { voltage, current } = output()
      return 3 * voltage * current
    },
    loadLoss: () => output().copperLoss,
    trips: () => [],
    wantsStop: () => false,
    mostOpening: () => 1,
    reset: () => {},
    step(dt, orders) {
      speed = orders.speed
      brake = orders.isStopped && design.brake !== undefined ? 1 / design.brake : 0
      resistors = orders.settings['load-bank'] === true ? 1 / Number(orders.settings['load-resistance']) : 0
      charger.step(dt, {
        isOn: orders.settings['charger'] === true && !orders.isStopped,
        speed,
        setPoint: Number(orders.settings['speed-set']),
        batteryVoltage: bus.voltage(),
        conductance: brake + resistors,
      })
      bus.step(dt, orders.settings, intoCharger(output().voltage) * share)
    },
    truth() {
      const { voltage, current } = output()
      const dcVoltage = rectifiedVoltage(design.charger, voltage)
      return {
        activePower: 3 * voltage * current,
        terminalLoadPower: 3 * resistors * voltage ** 2,
        powerFactor: 1,
        frequency: (machine.polePairs * speed) / (2 * Math.PI),
        ...onThreePhases(voltage, current),
        dcVoltage,
        dcCurrent:
          dcVoltage > 0 ? (intoCharger(voltage) * design.charger.rectifierEfficiency) / dcVoltage : 0,
        ...bus.truth(),
      }
    },
    book() {
      const { voltage, current, copperLoss } = output()
      const taken = intoCharger(voltage)
      const generator = {
        supplied: 3 * voltage * current + copperLoss,
        used: taken * share,
        lost: {
          copper: copperLoss,
          brake: 3 * brake * voltage ** 2,
          resistors: 3 * resistors * voltage ** 2,
          charger: taken * (1 - share),
        },
        stored: 0,
      }
      return joinBooks([generator, bus.book()])
    },
  }
}
