import { inductionTorque } from './inductionGenerator.ts'
import { lossOverInput } from './lossCurve.ts'
import type { EnergyBook } from './model.ts'
import { createRotor, createThermalNode } from './parts.ts'
import { type Jet, runnerTorque } from './runner.ts'
import {
  BELT,
  GENERATOR,
  HOUSE_TEMPERATURE,
  INERTIA,
  LOSSES,
  RATED_SPEED,
  REACTIVE,
  RUNNER,
} from './skelderwathDesign.ts'

/** What the public grid offers at the terminals. */
export interface GridState {
  isConnected: boolean
  frequency: number
}

/** Runner, belt, and the induction generator whose speed the grid holds. Speeds are those of the generator. */
export function createMillMachine({ rotationLosses }: { rotationLosses: boolean }) {
  const noLoadLoss = rotationLosses ? LOSSES.noLoadLoss : 0
  const rotor = createRotor(RATED_SPEED)
  const winding = createThermalNode({ capacity: 300000, resistance: 0.011 }, HOUSE_TEMPERATURE + 53)
  const turbineBearing = createThermalNode({ capacity: 20000, resistance: 0.03 }, HOUSE_TEMPERATURE + 21)
  const generatorBearing = createThermalNode({ capacity: 20000, resistance: 0.04 }, HOUSE_TEMPERATURE + 28)
  let jet: Jet = { hydraulicPower: 124042, netHead: 20, efficiency: 0.8 }
  let grid: GridState = { isConnected: true, frequency: 50 }
  let energy = 0

  const airGapTorque = (speed: number) =>
    grid.isConnected ? inductionTorque(GENERATOR, speed, grid.frequency) : 0
  /** Iron, windage and bearings, a tenth of it dry, so that the machine comes to rest [N·m]. */
  const rotationTorque = (speed: number) =>
    (noLoadLoss / RATED_SPEED) * (0.1 + 0.9 * Math.sqrt(speed / RATED_SPEED))
  const rotationLoss = () => rotationTorque(rotor.speed()) * rotor.speed()
  const turbinePower = () => runnerTorque(RUNNER, jet, rotor.speed()) * rotor.speed()
  const generatorInput = () => airGapTorque(rotor.speed()) * rotor.speed() + rotationLoss()

  /** Into the grid [W]; negative while the machine motors. */
  function power(): number {
    if (!grid.isConnected) return 0
    const input = generatorInput()
    return input - (input >= 0 ? lossOverInput(LOSSES, input) : LOSSES.noLoadLoss + 0.08 * Math.abs(input))
  }

  function stepHeat(dt: number): void {
    const electrical = grid.isConnected ? generatorInput() - power() - rotationLoss() : 0
    winding.step(dt, Math.max(0, electrical), HOUSE_TEMPERATURE)
    turbineBearing.step(dt, 0.5 * rotationLoss(), HOUSE_TEMPERATURE)
    generatorBearing.step(dt, 0.5 * rotationLoss(), HOUSE_TEMPERATURE)
  }

  return {
    speed: () => rotor.speed(),
    turbinePower,
    power,
    /** Drawn from the grid [var], the capacitors' part taken off. */
    reactiveDemand(): number {
      if (!grid.isConnected) return 0
      const share = power() / 90000
      return REACTIVE.noLoad + (REACTIVE.rated - REACTIVE.noLoad) * share ** 2 - REACTIVE.capacitors
    },
    step(dt: number, nextJet: Jet, nextGrid: GridState): void {
      jet = nextJet
      grid = nextGrid
      rotor.step(
        dt,
        INERTIA,
        (speed) =>
          runnerTorque(RUNNER, jet, speed) * BELT.efficiency - airGapTorque(speed) - rotationTorque(speed),
      )
      energy += Math.max(0, power()) * dt
      stepHeat(dt)
    },
    truth: (): Record<string, number> => ({
      speed: rotor.speed(),
      turbineSpeed: rotor.speed() / BELT.ratio,
      activePower: power(),
      energyMeter: energy,
      // steady running of a sound machine; grows with the square of the speed
      vibration: 1.6e-3 * (rotor.speed() / RATED_SPEED) ** 2,
      windingTemperature: winding.temperature(),
      'bearingTemperature.1': turbineBearing.temperature(),
      'bearingTemperature.2': generatorBearing.temperature(),
    }),
    /** From the water at the vanes to the grid. */
    book(supplied: number): EnergyBook {
      return {
        supplied,
        used: power(),
        lost: {
          runner: supplied - turbinePower(),
          belt: turbinePower() * (1 - BELT.efficiency),
          generator: generatorInput() - power(),
        },
        stored: 0.5 * INERTIA * rotor.speed() ** 2,
      }
    },
  }
}
