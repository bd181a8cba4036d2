import { interpolate } from './interpolate.ts'
import type { EnergyBook } from './model.ts'
import { createNozzles } from './nozzles.ts'
import {
  DEFLECTOR,
  ELEVATIONS,
  GRAVITY,
  JET_DISCHARGE,
  PIPE,
  POND,
  RACK,
  RATED_HEAD,
  SPEAR_EFFICIENCY,
  SPEAR_RATE,
  WATER_DENSITY,
} from './ostrelbyDesign.ts'
import { createReservoir, intakeCover, rackResistance } from './reservoir.ts'
import type { Jet } from './runner.ts'
import { createServo } from './servo.ts'
import { createWander } from './wander.ts'
import { createWaterColumn } from './waterColumn.ts'

export interface WaterOrders {
  /** Set points of the spears, 0 … 1. */
  spears: readonly number[]
  isTripped: boolean
  /** Water in the beck above the intake [m³/s]. */
  stream: number
  /** Share of the rack that is blocked. */
  blocked: number
}

const SPECIFIC_WEIGHT = WATER_DENSITY * GRAVITY

/** Intake pond, rack, penstock, two spear jets and the deflector before the runner. */
export function createBeckWater(random: (() => number) | undefined) {
  const nozzles = createNozzles({ discharge: JET_DISCHARGE, head: RATED_HEAD }, [1, 1])
  const column = createWaterColumn(PIPE, 2 * JET_DISCHARGE)
  const pond = createReservoir(POND, 1.52)
  const deflector = createServo(0)
  const waves = createWander(random, { sigma: 0.002, timeConstant: 2 })
  let rackLoss = RACK.loss

  const forebayLevel = () => pond.level() - rackLoss
  const grossHead = () => ELEVATIONS.forebay + forebayLevel() - ELEVATIONS.jets
  const weightFlow = () => SPECIFIC_WEIGHT * column.discharge()

  /** Each jet brings water in proportion to its opening, at the efficiency of that opening. */
  function efficiency(): number {
    const total = nozzles.total()
    if (total === 0) return 0
    const parts = nozzles.openings().map((open) => open * interpolate(SPEAR_EFFICIENCY, open))
    return parts.reduce((sum, part) => sum + part, 0) / total
  }

  return {
    step(dt: number, { spears, isTripped, stream, blocked }: WaterOrders): void {
      waves.step(dt)
      nozzles.step(dt, isTripped ? spears.map(() => 0) : spears, SPEAR_RATE)
      deflector.step(dt, isTripped ? 1 : 0, isTripped ? DEFLECTOR.rate : DEFLECTOR.returnRate)
      const rack = rackResistance(RACK, blocked)
      rackLoss = rack * column.discharge() ** 2
      const head = ELEVATIONS.forebay + pond.level() + waves.value() - ELEVATIONS.jets
      column.step(dt, {
        drivingHead: head * intakeCover(forebayLevel()),
        extraLoss: rack,
        outletResistance: nozzles.resistance(),
      })
      pond.step(dt, { inflow: stream, turbine: column.discharge() })
    },
    jet: (): Jet => ({
      hydraulicPower: weightFlow() * column.outletHead() * (1 - deflector.position()),
      netHead: column.outletHead(),
      efficiency: efficiency(),
    }),
    hydraulicPower: () => weightFlow() * column.outletHead(),
    truth(): Record<string, number> {
      const velocityHead = column.velocity() ** 2 / (2 * GRAVITY)
      const gaugeHead = column.outletHead() + ELEVATIONS.jets - ELEVATIONS.gauge - velocityHead
      return {
        rackUpstreamLevel: pond.level() + waves.value(),
        headwaterLevel: forebayLevel() + waves.value(),
        rackDifferential: rackLoss,
        grossHead: grossHead(),
        netHead: column.outletHead(),
        headLoss: grossHead() - column.outletHead(),
        discharge: column.discharge(),
        hydraulicPower: weightFlow() * column.outletHead(),
        residualFlow: pond.residualFlow(),
        inletPressure: SPECIFIC_WEIGHT * gaugeHead,
        deflector: deflector.position() > 0.5 ? 1 : 0,
        ...Object.fromEntries(nozzles.openings().map((open, i) => [`needleStroke.${i + 1}`, open])),
      }
    },
    book(): EnergyBook {
      return {
        supplied: weightFlow() * (grossHead() + rackLoss + waves.value()) * intakeCover(forebayLevel()),
        used: weightFlow() * column.outletHead(),
        lost: { rack: weightFlow() * rackLoss, pipe: weightFlow() * column.pipeLoss() },
        stored: column.energy(WATER_DENSITY),
      }
    },
  }
}
