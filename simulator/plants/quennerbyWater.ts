import type { EnergyBook } from './model.ts'
import { createNozzles } from './nozzles.ts'
import { createServo, createWander } from './parts.ts'
import {
  createPumpDrive,
  type DriveOrder,
  pumpHead,
  pumpInputPower,
  pumpShaftPower,
  pumpShutOffHead,
} from './pump.ts'
import {
  DELIVERY_GAUGE,
  GRAVITY,
  JET_DISCHARGE,
  LIFT,
  MANIFOLD_GAUGE,
  PIPE,
  PUMP,
  RATED_HEAD,
  STRAINER,
  SUMP,
  THROTTLE,
  WATER_DENSITY,
} from './quennerbyDesign.ts'
import { rackResistance } from './reservoir.ts'
import { createWaterColumn } from './waterColumn.ts'

export interface WaterOrders {
  /** 1 open, 0 shut, for each jet. */
  jets: readonly number[]
  drive: DriveOrder
  /** Share of the strainer that is blocked. */
  blocked: number
  /** Opening of the throttle valve, 1 open. */
  throttle: number
}

/** Solenoid valves need 60 ms for their stroke [1/s]. */
const JET_RATE = 1 / 0.06
/** The actuator of the throttle valve needs 5 s for its stroke [1/s]. */
const VALVE_RATE = 0.2
const SPECIFIC_WEIGHT = WATER_DENSITY * GRAVITY

/** Sump, strainer, pump, pipe and nozzles. */
export function createRigWater(random: (() => number) | undefined) {
  const nozzles = createNozzles({ discharge: JET_DISCHARGE, head: RATED_HEAD }, [1, 1, 1, 1])
  const column = createWaterColumn(PIPE, 4 * JET_DISCHARGE)
  const drive = createPumpDrive(1)
  const turbulence = createWander(random, { sigma: 0.002, timeConstant: 0.3 })
  const valve = createServo(1)
  let strainerResistance = 0

  const pumped = () => pumpHead(PUMP, drive.speed(), column.discharge())
  const shaftPower = () =>
    pumpShaftPower(PUMP, drive.speed(), {
      discharge: column.discharge(),
      specificWeight: SPECIFIC_WEIGHT,
    })
  const weightFlow = () => SPECIFIC_WEIGHT * column.discharge()

  return {
    step(dt: number, { jets, drive: order, blocked, throttle }: WaterOrders): void {
      turbulence.step(dt)
      nozzles.step(dt, jets, JET_RATE)
      drive.step(dt, order)
      valve.step(dt, throttle, VALVE_RATE)
      strainerResistance = rackResistance(STRAINER, blocked) - rackResistance(STRAINER, 0)
      column.step(dt, {
        drivingHead: Math.max(0, pumpShutOffHead(PUMP, drive.speed()) * (1 + turbulence.value()) - LIFT),
        extraLoss: PUMP.slope + strainerResistance + throttleResistance(valve.position()),
        outletResistance: nozzles.resistance(),
      })
    },
    netHead: () => column.outletHead(),
    discharge: () => column.discharge(),
    hydraulicPower: () => weightFlow() * column.outletHead(),
    jets: () => nozzles.total(),
    /** Heat that the pump and all water losses leave in the loop [W]. */
    heat: () => shaftPower(),
    truth(): Record<string, number> {
      const velocityHead = column.velocity() ** 2 / (2 * GRAVITY)
      const deliveryHead =
        pumped() - strainerResistance * column.discharge() ** 2 - DELIVERY_GAUGE - velocityHead
      return {
        discharge: column.discharge(),
        netHead: column.outletHead(),
        hydraulicPower: weightFlow() * column.outletHead(),
        inletPressure: SPECIFIC_WEIGHT * (column.outletHead() - MANIFOLD_GAUGE - velocityHead),
        pumpOutletPressure: SPECIFIC_WEIGHT * deliveryHead,
        pumpHead: pumped(),
        pumpSpeed: drive.speed(),
        throttleOpening: valve.position(),
        pumpInputPower: pumpInputPower(PUMP, shaftPower()),
        // water on its way through pipe, casing and back is missing in the sump
        sumpLevel: SUMP.level - (3 * column.discharge()) / SUMP.area,
        ...Object.fromEntries(nozzles.openings().map((open, i) => [`jetOpen.${i + 1}`, open > 0.5 ? 1 : 0])),
      }
    },
    book(): EnergyBook {
      const input = pumpInputPower(PUMP, shaftPower())
      const strainer = strainerResistance * column.discharge() ** 2
      return {
        supplied: input,
        used: weightFlow() * column.outletHead(),
        lost: {
          drive: input - shaftPower(),
          pump: shaftPower() - weightFlow() * pumped(),
          lift: weightFlow() * LIFT,
          pipe: weightFlow() * (column.pipeLoss() + strainer),
          throttle: weightFlow() * throttleResistance(valve.position()) * column.discharge() ** 2,
        },
        stored: column.energy(WATER_DENSITY),
      }
    },
  }
}

/** What the valve loses more than when it is open, as head per discharge squared [s²/m⁵]. */
function throttleResistance(opening: number): number {
  const { openLoss, rangeability } = THROTTLE
  const area = (Math.PI / 4) * PIPE.bore ** 2
  return (openLoss * (rangeability ** (2 * (1 - opening)) - 1)) / (2 * GRAVITY * area ** 2)
}
