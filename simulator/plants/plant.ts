import { type BusDesign, createBusSide } from './busSide.ts'
import { efficiencies } from './efficiencies.ts'
import type { ElectricalSide } from './electricalSide.ts'
import { createGridSide, type GridDesign } from './gridSide.ts'
import { createIslandSide, type IslandDesign } from './islandSide.ts'
import { changeSetting, joinBooks, type ModelOptions, type PlantModel, type Setting } from './model.ts'
import { createTripSwitch } from './parts.ts'
import { createShaft, type ShaftDesign } from './shaft.ts'
import { createWater, type WaterDesign } from './water.ts'

/** A plant as it is built: what its parts need, in SI. */
export interface PlantDesign {
  water: WaterDesign
  shaft: ShaftDesign
  electrical: BusDesign | IslandDesign | GridDesign
  /** Hard-wired switch: generator speed [rad/s], and from there to the contact having moved [s]. */
  overSpeed: { level: number; delay: number } | undefined
}

function createElectricalSide(
  design: PlantDesign['electrical'],
  options: { random: (() => number) | undefined; rotationLosses: boolean },
): ElectricalSide {
  if (design.kind === 'grid') return createGridSide(design, options)
  return design.kind === 'bus'
    ? createBusSide(design, options.random)
    : createIslandSide(design, options.random)
}

const COMMON = {
  flywheel: false,
  protection: true,
  reset: false,
  'emergency-stop': false,
  guard: false,
}

/** A plant out of its parts: water to shaft to electrical side. Begins in its rated state. */
export function createPlant(
  design: PlantDesign,
  { random, rotationLosses = true }: ModelOptions = {},
): PlantModel {
  const water = createWater(design.water, random)
  const shaft = createShaft(design.shaft, { rotationLosses })
  const electrical = createElectricalSide(design.electrical, { random, rotationLosses })
  const overSpeed = design.overSpeed && createTripSwitch(design.overSpeed.delay)
  const settings: Record<string, Setting> = { ...COMMON, ...water.settings, ...electrical.settings }

  const isStoppedByHand = () => settings['emergency-stop'] === true || settings['guard'] === true
  const isStopped = () => overSpeed?.isTripped() === true || isStoppedByHand()

  function stepSwitches(dt: number): void {
    if (settings['reset'] === true) {
      overSpeed?.reset()
      electrical.reset(settings)
      settings['reset'] = false
    }
    overSpeed?.step(dt, settings['protection'] === true && shaft.speed() >= design.overSpeed!.level)
  }

  /** Without its protection a plant neither shuts after a trip of the mains relay nor waits for the grid. */
  function mostOpening(): number {
    if (isStopped()) return 0
    if (settings['protection'] !== true) return 1
    return electrical.wantsStop() ? 0 : electrical.mostOpening()
  }

  return {
    settings,
    command: (id, value) => changeSetting(settings, id, value),
    speed: shaft.speed,
    step(dt) {
      stepSwitches(dt)
      water.step(dt, {
        settings,
        isStopped: isStopped(),
        isDeflected: overSpeed?.isTripped() === true || settings['emergency-stop'] === true,
        most: mostOpening(),
        speedShare: shaft.speed() / design.shaft.ratedSpeed,
      })
      shaft.step(dt, {
        jet: water.jet(),
        hasFlywheel: settings['flywheel'] === true,
        electricalTorque: electrical.torque,
        loadLoss: electrical.loadLoss(),
      })
      electrical.step(dt, { settings, speed: shaft.speed(), isStopped: isStopped() })
    },
    truth() {
      const turbine = shaft.turbinePower()
      const trips = [...(overSpeed ? [overSpeed.isTripped()] : []), ...electrical.trips()]
      return {
        ...water.truth(),
        ...shaft.truth(),
        ...electrical.truth(),
        ...efficiencies({
          hydraulic: water.hydraulicPower(),
          turbine,
          shaft: turbine * design.shaft.drive.efficiency,
          active: electrical.power(),
        }),
        ...Object.fromEntries(trips.map((trip, i) => [`tripped.${i + 1}`, Number(trip)])),
        emergencyStop: Number(settings['emergency-stop']),
        guardOpen: Number(settings['guard']),
      }
    },
    book: () => joinBooks([water.book(), shaft.book(water.hydraulicPower()), electrical.book()]),
  }
}
