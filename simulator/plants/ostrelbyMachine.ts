import { lossOverOutput } from './lossCurve.ts'
import { type EnergyBook, onThreePhases } from './model.ts'
import { GENERATOR, HOUSE_TEMPERATURE, INERTIA, LOSSES, RATED_SPEED, RUNNER } from './ostrelbyDesign.ts'
import { createRotor, createThermalNode } from './parts.ts'
import { type Jet, runnerTorque } from './runner.ts'
import { createSynchronousGenerator, type PhaseLoad } from './synchronousGenerator.ts'

/** Below this the exciter gives nothing: the machine coasts [rad/s]. */
const LOWEST_SPEED = 20
/** Without dry friction a coasting machine would never quite stop [N·m]. */
const DRY_FRICTION = 0.02

/** Runner, rotor and generator with its voltage regulator. */
export function createBeckMachine({
  rotationLosses,
  load,
}: {
  rotationLosses: boolean
  load: () => PhaseLoad
}) {
  const noLoadLoss = rotationLosses ? LOSSES.noLoadLoss : 0
  const dryFriction = rotationLosses ? DRY_FRICTION : 0
  const totalLoss = lossOverOutput(LOSSES)
  const generator = createSynchronousGenerator(GENERATOR, load())
  const rotor = createRotor(RATED_SPEED)
  const winding = createThermalNode({ capacity: 60000, resistance: 0.045 }, HOUSE_TEMPERATURE + 50)
  const driveEnd = createThermalNode({ capacity: 8000, resistance: 0.1 }, HOUSE_TEMPERATURE + 20)
  const farEnd = createThermalNode({ capacity: 8000, resistance: 0.075 }, HOUSE_TEMPERATURE + 15)
  let jet: Jet = { hydraulicPower: 20833, netHead: 48, efficiency: 0.8 }
  let energy = 0

  const power = () => (rotor.speed() < LOWEST_SPEED ? 0 : 3 * generator.voltage() ** 2 * load().conductance)
  /** Iron, windage and bearings [W]. */
  const rotationLoss = () => noLoadLoss * (rotor.speed() / RATED_SPEED) ** 1.5
  const loadLoss = () => totalLoss(power()) - LOSSES.noLoadLoss
  const shaftPower = () => runnerTorque(RUNNER, jet, rotor.speed()) * rotor.speed()

  function stepRotor(dt: number): void {
    // A load takes power; what it takes at this speed is a torque that changes little within a step.
    const loadTorque = rotor.speed() < LOWEST_SPEED ? 0 : (power() + loadLoss()) / rotor.speed()
    rotor.step(dt, INERTIA, (speed) => {
      const rotation = (noLoadLoss / RATED_SPEED) * Math.sqrt(speed / RATED_SPEED)
      return runnerTorque(RUNNER, jet, speed) - loadTorque - rotation - dryFriction
    })
  }

  return {
    speed: () => rotor.speed(),
    frequency: () => (GENERATOR.polePairs * rotor.speed()) / (2 * Math.PI),
    voltage: () => generator.voltage(),
    shaftPower,
    power,
    step(dt: number, nextJet: Jet): void {
      jet = nextJet
      stepRotor(dt)
      generator.step(dt, rotor.speed(), load())
      energy += power() * dt
      winding.step(dt, loadLoss() + 0.3 * rotationLoss(), HOUSE_TEMPERATURE)
      driveEnd.step(dt, 0.5 * rotationLoss(), HOUSE_TEMPERATURE)
      farEnd.step(dt, 0.5 * rotationLoss(), HOUSE_TEMPERATURE)
    },
    truth(): Record<string, number> {
      const { conductance, susceptance } = load()
      const admittance = Math.hypot(conductance, susceptance)
      return {
        speed: rotor.speed(),
        activePower: power(),
        powerFactor: admittance > 0 ? conductance / admittance : 1,
        frequency: (GENERATOR.polePairs * rotor.speed()) / (2 * Math.PI),
        energyMeter: energy,
        ...onThreePhases(generator.voltage(), generator.current()),
        windingTemperature: winding.temperature(),
        'bearingTemperature.1': driveEnd.temperature(),
        'bearingTemperature.2': farEnd.temperature(),
      }
    },
    /** From the water at the jets to the village's grid. */
    book(supplied: number): EnergyBook {
      return {
        supplied,
        used: power(),
        lost: {
          runner: supplied - shaftPower(),
          rotation: rotationLoss() + dryFriction * rotor.speed(),
          generator: loadLoss(),
        },
        stored: 0.5 * INERTIA * rotor.speed() ** 2,
      }
    },
  }
}
