import { createCharger, rectifiedVoltage } from './charger.ts'
import { type EnergyBook, onThreePhases } from './model.ts'
import { createRotor, createThermalNode } from './parts.ts'
import {
  currentIntoResistors,
  currentTorque,
  type PermanentMagnetDesign,
  rotationLoss,
  rotationTorque,
  terminals,
} from './permanentMagnetGenerator.ts'
import {
  BRAKE,
  CHARGER,
  FLYWHEEL_INERTIA,
  GENERATOR,
  RATED_SPEED,
  ROOM_TEMPERATURE,
  ROTOR_INERTIA,
  RUNNER,
} from './quennerbyDesign.ts'
import { type Jet, runnerTorque } from './runner.ts'

export interface MachineOrders {
  jet: Jet
  hasFlywheel: boolean
  /** The brake resistors are on the terminals; the charger is off then. */
  isBraked: boolean
  isChargerOn: boolean
  /** Speed that the charger holds [rad/s]. */
  setPoint: number
  batteryVoltage: number
}

const CHARGER_SHARE = CHARGER.rectifierEfficiency * CHARGER.converterEfficiency
/** Phase current in the rated state [A]. */
const RATED_CURRENT = 6.918
const RATED_ORDERS: MachineOrders = {
  jet: { hydraulicPower: 847.1, netHead: 24, efficiency: 0.7 },
  hasFlywheel: false,
  isBraked: false,
  isChargerOn: true,
  setPoint: RATED_SPEED,
  batteryVoltage: 26.5,
}

/** Runner, rotor, generator with its brake, rectifier and charger. */
export function createRigMachine({ rotationLosses }: { rotationLosses: boolean }) {
  const machine: PermanentMagnetDesign = rotationLosses
    ? GENERATOR
    : { ...GENERATOR, ironLoss: 0, windageLoss: 0 }
  const charger = createCharger(CHARGER, machine, RATED_CURRENT)
  const rotor = createRotor(RATED_SPEED)
  const winding = createThermalNode({ capacity: 2500, resistance: 0.6 }, ROOM_TEMPERATURE + 25)
  const bearing = createThermalNode({ capacity: 400, resistance: 0.7 }, ROOM_TEMPERATURE + 10)
  let orders = RATED_ORDERS

  const inertia = () => ROTOR_INERTIA + (orders.hasFlywheel ? FLYWHEEL_INERTIA : 0)
  const torque = () => runnerTorque(RUNNER, orders.jet, rotor.speed())
  const intoCharger = () => terminals(machine, rotor.speed(), charger.current())
  const brakeCurrent = (speed: number) =>
    orders.isBraked ? currentIntoResistors(machine, speed, BRAKE.resistance) : 0

  function stepRotor(dt: number): void {
    const loadTorque = currentTorque(machine, charger.current())
    rotor.step(
      dt,
      inertia(),
      (speed) =>
        runnerTorque(RUNNER, orders.jet, speed) -
        loadTorque -
        currentTorque(machine, brakeCurrent(speed)) -
        rotationTorque(machine, speed),
    )
  }

  function stepHeat(dt: number): void {
    const losses = rotationLoss(machine, rotor.speed())
    winding.step(dt, intoCharger().copperLoss + losses.iron, ROOM_TEMPERATURE)
    bearing.step(dt, losses.windage, ROOM_TEMPERATURE)
  }

  return {
    speed: () => rotor.speed(),
    /** Power that the charger gives to the bus [W]. */
    charge: () => intoCharger().power * CHARGER_SHARE,
    step(dt: number, next: MachineOrders): void {
      orders = next
      charger.step(dt, {
        isOn: orders.isChargerOn && !orders.isBraked,
        speed: rotor.speed(),
        setPoint: orders.setPoint,
        batteryVoltage: orders.batteryVoltage,
      })
      stepRotor(dt)
      stepHeat(dt)
    },
    truth(): Record<string, number> {
      const { voltage, power } = intoCharger()
      const braking = brakeCurrent(rotor.speed())
      const dcVoltage = rectifiedVoltage(voltage)
      const activePower = orders.isBraked ? 3 * braking ** 2 * BRAKE.resistance : power
      const phaseVoltage = orders.isBraked ? braking * BRAKE.resistance : voltage
      const phaseCurrent = charger.current() + braking
      return {
        speed: rotor.speed(),
        torque: torque(),
        shaftPower: torque() * rotor.speed(),
        activePower,
        frequency: (machine.polePairs * rotor.speed()) / (2 * Math.PI),
        ...onThreePhases(phaseVoltage, phaseCurrent),
        dcVoltage,
        dcCurrent: dcVoltage > 0 ? (power * CHARGER.rectifierEfficiency) / dcVoltage : 0,
        windingTemperature: winding.temperature(),
        'bearingTemperature.1': bearing.temperature(),
      }
    },
    /** From the water at the nozzles to the bus. */
    book(): EnergyBook {
      const { power, copperLoss } = intoCharger()
      const braking = 3 * brakeCurrent(rotor.speed()) ** 2 * (BRAKE.resistance + machine.resistance)
      return {
        supplied: orders.jet.hydraulicPower,
        used: power * CHARGER_SHARE,
        lost: {
          runner: orders.jet.hydraulicPower - torque() * rotor.speed(),
          copper: copperLoss,
          ...rotationLoss(machine, rotor.speed()),
          brake: braking,
          charger: power * (1 - CHARGER_SHARE),
        },
        stored: 0.5 * inertia() * rotor.speed() ** 2,
      }
    },
  }
}
