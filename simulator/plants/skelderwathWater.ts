import { interpolate } from './interpolate.ts'
import type { EnergyBook } from './model.ts'
import { createReservoir, intakeCover, rackResistance } from './reservoir.ts'
import type { Jet } from './runner.ts'
import { createServo } from './servo.ts'
import {
  ELEVATIONS,
  GRAVITY,
  PIPE,
  POND,
  RACK,
  RATED_DISCHARGE,
  RATED_HEAD,
  TAILWATER_LEVEL,
  TURBINE_EFFICIENCY,
  WATER_DENSITY,
} from './skelderwathDesign.ts'
import { createWander } from './wander.ts'
import { createWaterColumn } from './waterColumn.ts'

export interface WaterOrders {
  /** Targets of the small and the large cell's vane, 0 … 1, and how fast they may travel [1/s]. */
  vanes: readonly [number, number]
  vaneRate: number
  /** Water in the river [m³/s]. */
  river: number
  /** Share of the rack that is blocked. */
  blocked: number
}

const SPECIFIC_WEIGHT = WATER_DENSITY * GRAVITY
/** Level that the head ends at [m above the plant's datum]. */
const TAILWATER = ELEVATIONS.tailwater + TAILWATER_LEVEL
/** Widths of the two cells. */
const CELLS = [1 / 3, 2 / 3] as const

/** Weir pond, rack, penstock and the guide vanes of the two cells. */
export function createMillWater(random: (() => number) | undefined) {
  const vanes = [createServo(1), createServo(1)] as const
  const column = createWaterColumn(PIPE, RATED_DISCHARGE)
  const pond = createReservoir(POND, 1.2)
  const waves = createWander(random, { sigma: 0.003, timeConstant: 3 })
  let rackLoss = RACK.loss

  const opening = () => CELLS[0] * vanes[0].position() + CELLS[1] * vanes[1].position()
  const weightFlow = () => SPECIFIC_WEIGHT * column.discharge()
  const grossHead = () => ELEVATIONS.headwater + pond.level() + waves.value() - TAILWATER
  const cover = () => intakeCover(pond.level() - rackLoss)

  return {
    step(dt: number, { vanes: targets, vaneRate, river, blocked }: WaterOrders): void {
      waves.step(dt)
      vanes[0].step(dt, targets[0], vaneRate)
      vanes[1].step(dt, targets[1], vaneRate)
      const rack = rackResistance(RACK, blocked)
      rackLoss = rack * column.discharge() ** 2
      column.step(dt, {
        drivingHead: grossHead() * cover(),
        extraLoss: rack,
        outletResistance: RATED_HEAD / (opening() * RATED_DISCHARGE) ** 2,
      })
      pond.step(dt, { inflow: river, turbine: column.discharge() })
    },
    jet: (): Jet => ({
      hydraulicPower: weightFlow() * column.outletHead(),
      netHead: column.outletHead(),
      efficiency: interpolate(TURBINE_EFFICIENCY, column.discharge() / RATED_DISCHARGE),
    }),
    hydraulicPower: () => weightFlow() * column.outletHead(),
    truth(): Record<string, number> {
      const velocityHead = column.velocity() ** 2 / (2 * GRAVITY)
      const gaugeHead = column.outletHead() + TAILWATER - ELEVATIONS.gauge - velocityHead
      return {
        headwaterLevel: pond.level() + waves.value(),
        tailwaterLevel: TAILWATER_LEVEL,
        rackDifferential: rackLoss,
        grossHead: grossHead(),
        netHead: column.outletHead(),
        headLoss: grossHead() - column.outletHead(),
        discharge: column.discharge(),
        hydraulicPower: weightFlow() * column.outletHead(),
        residualFlow: pond.residualFlow(),
        inletPressure: SPECIFIC_WEIGHT * gaugeHead,
        'guideVaneOpening.1': vanes[0].position(),
        'guideVaneOpening.2': vanes[1].position(),
      }
    },
    book(): EnergyBook {
      return {
        supplied: weightFlow() * grossHead() * cover(),
        used: weightFlow() * column.outletHead(),
        lost: { rack: weightFlow() * rackLoss, pipe: weightFlow() * column.pipeLoss() },
        stored: column.energy(WATER_DENSITY),
      }
    },
  }
}
