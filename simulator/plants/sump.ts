import { createThermalNode, createWander, type Warming } from './parts.ts'
import {
  createPumpDrive,
  type DriveOrder,
  type PumpDesign,
  pumpHead,
  pumpInputPower,
  pumpShaftPower,
  pumpShutOffHead,
} from './pump.ts'
import { rackResistance } from './reservoir.ts'
import type { Draw, Supply } from './supply.ts'

export interface SumpDesign {
  kind: 'sump'
  /** ρg [N/m³] */
  specificWeight: number
  pump: PumpDesign
  /** What the clean strainer takes is part of ΣK of the pipe. */
  strainer: { loss: number; atDischarge: number }
  /** Where the head ends over the water in the sump, and the delivery gauge over that water [m]. */
  lift: number
  gauge: number
  /** Level without circulation [m] and surface [m²]. */
  level: number
  area: number
  /** Head that the drive holds at first [m]. */
  ratedHead: number
  /** Of all the water; the heat is what the pump takes when rated [W]. */
  waterTemperature: number
  warming: Warming
  ratedHeat: number
}

/** Water on its way through pipe, casing and back is missing in the sump [s of discharge] (common practice, no source). */
const ON_ITS_WAY = 3

/** Sump, strainer and pump with its frequency converter. */
export function createSump(design: SumpDesign, random: (() => number) | undefined): Supply {
  const { pump, specificWeight } = design
  const drive = createPumpDrive(1, design.ratedHead)
  const turbulence = createWander(random, { sigma: 0.002, timeConstant: 0.3 })
  const loop = createThermalNode(design.warming, {
    heat: design.ratedHeat,
    air: design.waterTemperature,
    share: 0,
  })
  let strainer = 0

  const pumped = (discharge: number) => pumpHead(pump, drive.speed(), discharge)
  const shaftPower = (discharge: number) => pumpShaftPower(pump, drive.speed(), { discharge, specificWeight })

  function orderOf({ settings, isStopped, netHead }: Draw): DriveOrder {
    if (isStopped) return { kind: 'stop' }
    if (settings['drive-mode'] === 'fixedSpeed')
      return { kind: 'fixedSpeed', speed: Number(settings['drive-speed']) }
    return { kind: 'holdHead', setPoint: Number(settings['head']), head: netHead }
  }

  return {
    settings: { 'drive-mode': 'holdHead', 'drive-speed': 1, head: design.ratedHead, blockage: 0 },
    drivingHead: () =>
      Math.max(0, pumpShutOffHead(pump, drive.speed()) * (1 + turbulence.value()) - design.lift),
    loss: () => pump.slope + strainer,
    waterTemperature: loop.temperature,
    step(dt, draw) {
      turbulence.step(dt)
      drive.step(dt, orderOf(draw))
      strainer =
        rackResistance(design.strainer, Number(draw.settings['blockage'])) -
        rackResistance(design.strainer, 0)
      // Pump and all water losses leave their heat in the loop.
      loop.step(dt, shaftPower(draw.discharge))
    },
    truth({ discharge, velocityHead }) {
      const deliveryHead = pumped(discharge) - strainer * discharge ** 2 - design.gauge - velocityHead
      return {
        pumpOutletPressure: specificWeight * deliveryHead,
        pumpHead: pumped(discharge),
        pumpSpeed: drive.speed(),
        pumpInputPower: pumpInputPower(pump, shaftPower(discharge)),
        sumpLevel: design.level - (ON_ITS_WAY * discharge) / design.area,
      }
    },
    book(discharge) {
      const shaft = shaftPower(discharge)
      const input = pumpInputPower(pump, shaft)
      const weightFlow = specificWeight * discharge
      return {
        supplied: input,
        lost: {
          pumpDrive: input - shaft,
          pump: shaft - weightFlow * pumped(discharge),
          lift: weightFlow * design.lift,
          strainer: weightFlow * strainer * discharge ** 2,
        },
      }
    },
  }
}
