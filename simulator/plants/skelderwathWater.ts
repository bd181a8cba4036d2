import { interpolate } from './interpolate.ts'
import { createServo } from './parts.ts'
import type { Jet } from './runner.ts'
import {
  RATED_DISCHARGE,
  RATED_HEAD,
  TAILWATER_LEVEL,
  TURBINE_EFFICIENCY,
  WATERWAY,
} from './skelderwathDesign.ts'
import { createWaterway } from './waterway.ts'

export interface WaterOrders {
  /** Targets of the small and the large cell's vane, 0 … 1, and how fast they may travel [1/s]. */
  vanes: readonly [number, number]
  vaneRate: number
  /** Water in the river [m³/s]. */
  river: number
  /** Share of the rack that is blocked. */
  blocked: number
}

/** Widths of the two cells. */
const CELLS = [1 / 3, 2 / 3] as const

/** Weir pond, rack, penstock and the guide vanes of the two cells. */
export function createMillWater(random: (() => number) | undefined) {
  const vanes = [createServo(1), createServo(1)] as const
  const waterway = createWaterway(WATERWAY, random)

  const opening = () => CELLS[0] * vanes[0].position() + CELLS[1] * vanes[1].position()

  return {
    step(dt: number, { vanes: targets, vaneRate, river, blocked }: WaterOrders): void {
      vanes[0].step(dt, targets[0], vaneRate)
      vanes[1].step(dt, targets[1], vaneRate)
      const outletResistance = RATED_HEAD / (opening() * RATED_DISCHARGE) ** 2
      waterway.step(dt, { inflow: river, blocked, outletResistance })
    },
    jet: (): Jet => ({
      hydraulicPower: waterway.hydraulicPower(),
      netHead: waterway.netHead(),
      efficiency: interpolate(TURBINE_EFFICIENCY, waterway.discharge() / RATED_DISCHARGE),
    }),
    hydraulicPower: waterway.hydraulicPower,
    truth: (): Record<string, number> => ({
      ...waterway.truth(waterway.pondHead()),
      headwaterLevel: waterway.waveLevel(),
      tailwaterLevel: TAILWATER_LEVEL,
      'guideVaneOpening.1': vanes[0].position(),
      'guideVaneOpening.2': vanes[1].position(),
    }),
    book: waterway.book,
  }
}
