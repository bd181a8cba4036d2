import { interpolate } from './interpolate.ts'
import { createNozzles } from './nozzles.ts'
import {
  DEFLECTOR,
  JET_DISCHARGE,
  RATED_HEAD,
  SPEAR_EFFICIENCY,
  SPEAR_RATE,
  WATERWAY,
} from './ostrelbyDesign.ts'
import { createServo } from './parts.ts'
import type { Jet } from './runner.ts'
import { createWaterway } from './waterway.ts'

export interface WaterOrders {
  /** Set points of the spears, 0 … 1. */
  spears: readonly number[]
  isTripped: boolean
  /** Water in the beck above the intake [m³/s]. */
  stream: number
  /** Share of the rack that is blocked. */
  blocked: number
}

/** Intake pond, rack, penstock, two spear jets and the deflector before the runner. */
export function createBeckWater(random: (() => number) | undefined) {
  const nozzles = createNozzles({ discharge: JET_DISCHARGE, head: RATED_HEAD }, [1, 1])
  const waterway = createWaterway(WATERWAY, random)
  const deflector = createServo(0)
  const { pond, outlet } = WATERWAY.elevations

  const forebayLevel = () => waterway.pondLevel() - waterway.rackLoss()

  /** Each jet brings water in proportion to its opening, at the efficiency of that opening. */
  function efficiency(): number {
    const total = nozzles.total()
    if (total === 0) return 0
    const parts = nozzles.openings().map((open) => open * interpolate(SPEAR_EFFICIENCY, open))
    return parts.reduce((sum, part) => sum + part, 0) / total
  }

  return {
    step(dt: number, { spears, isTripped, stream, blocked }: WaterOrders): void {
      nozzles.step(dt, isTripped ? spears.map(() => 0) : spears, SPEAR_RATE)
      deflector.step(dt, isTripped ? 1 : 0, isTripped ? DEFLECTOR.rate : DEFLECTOR.returnRate)
      waterway.step(dt, { inflow: stream, blocked, outletResistance: nozzles.resistance() })
    },
    jet: (): Jet => ({
      hydraulicPower: waterway.hydraulicPower() * (1 - deflector.position()),
      netHead: waterway.netHead(),
      efficiency: efficiency(),
    }),
    hydraulicPower: waterway.hydraulicPower,
    truth: (): Record<string, number> => ({
      ...waterway.truth(pond + forebayLevel() - outlet),
      rackUpstreamLevel: waterway.waveLevel(),
      headwaterLevel: waterway.waveLevel() - waterway.rackLoss(),
      deflector: deflector.position() > 0.5 ? 1 : 0,
      ...Object.fromEntries(nozzles.openings().map((open, i) => [`needleStroke.${i + 1}`, open])),
    }),
    book: waterway.book,
  }
}
