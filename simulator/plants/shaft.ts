import type { EnergyBook } from './model.ts'
import { createRotor, createThermalNode, type Warming } from './parts.ts'
import { type Jet, type RunnerDesign, runnerTorque } from './runner.ts'

/** Speeds and masses are those of the generator's side. */
export interface ShaftDesign {
  runner: RunnerDesign
  /** Gear or belt: generator speed over turbine speed, and what it passes on. */
  drive: { ratio: number; efficiency: number }
  /** Of all that turns [kg·m²], and of a flywheel that can be fitted. */
  inertia: number
  flywheel: number
  ratedSpeed: number
  /** Iron, windage and bearings at rated speed [W], and the share of it that is dry. */
  noLoadLoss: number
  dryShare: number
  /** Losses of the generator that come with its load, when rated [W]. */
  ratedLoadLoss: number
  airTemperature: number
  winding: Warming
  bearings: readonly Warming[]
}

export interface ShaftOrders {
  jet: Jet
  hasFlywheel: boolean
  /** What the generator takes at a speed [N·m], rotation losses not included. */
  electricalTorque: (speed: number) => number
  /** Losses of the generator that come with its load [W]. */
  loadLoss: number
}

/** Iron and windage heat the winding by this share of the rotation losses, each bearing by half of them. */
const IRON_SHARE = 0.3
/** Steady running of a sound machine [m/s RMS]; grows with the square of the speed. */
const VIBRATION = 1.6e-3

/** Runner, drive, rotor and what warms up. Begins turning at rated speed, as warm as after hours of it. */
export function createShaft(design: ShaftDesign, { rotationLosses }: { rotationLosses: boolean }) {
  const { runner, drive, ratedSpeed, airTemperature } = design
  const noLoadLoss = rotationLosses ? design.noLoadLoss : 0
  const rotor = createRotor(ratedSpeed)
  const nodeOf = (warming: Warming, heat: number) =>
    createThermalNode(warming, { heat, air: airTemperature, share: 1 })
  const winding = nodeOf(design.winding, design.ratedLoadLoss + IRON_SHARE * design.noLoadLoss)
  const bearings = design.bearings.map((bearing) => nodeOf(bearing, 0.5 * design.noLoadLoss))
  let jet: Jet = { hydraulicPower: 0, netHead: 0, efficiency: 0 }
  let inertia = design.inertia

  const turbinePower = () => runnerTorque(runner, jet, rotor.speed()) * rotor.speed()
  const rotationTorque = (speed: number) =>
    (noLoadLoss / ratedSpeed) * (design.dryShare + (1 - design.dryShare) * Math.sqrt(speed / ratedSpeed))
  const rotationLoss = () => rotationTorque(rotor.speed()) * rotor.speed()

  return {
    speed: () => rotor.speed(),
    turbinePower,
    step(dt: number, orders: ShaftOrders): void {
      jet = orders.jet
      inertia = design.inertia + (orders.hasFlywheel ? design.flywheel : 0)
      rotor.step(
        dt,
        inertia,
        (speed) =>
          runnerTorque(runner, jet, speed) * drive.efficiency -
          orders.electricalTorque(speed) -
          rotationTorque(Math.max(0, speed)),
      )
      winding.step(dt, Math.max(0, orders.loadLoss) + IRON_SHARE * rotationLoss())
      for (const bearing of bearings) bearing.step(dt, 0.5 * rotationLoss())
    },
    truth: (): Record<string, number> => ({
      speed: rotor.speed(),
      turbineSpeed: rotor.speed() / drive.ratio,
      torque: runnerTorque(runner, jet, rotor.speed()) * drive.efficiency,
      vibration: VIBRATION * (rotor.speed() / ratedSpeed) ** 2,
      windingTemperature: winding.temperature(),
      ambientTemperature: airTemperature,
      ...Object.fromEntries(bearings.map((one, i) => [`bearingTemperature.${i + 1}`, one.temperature()])),
    }),
    /** From the water at the outlet to the generator's air gap. */
    book: (supplied: number): EnergyBook => ({
      supplied,
      used: turbinePower() * drive.efficiency - rotationLoss(),
      lost: {
        runner: supplied - turbinePower(),
        drive: turbinePower() * (1 - drive.efficiency),
        rotation: rotationLoss(),
      },
      stored: 0.5 * inertia * rotor.speed() ** 2,
    }),
  }
}
