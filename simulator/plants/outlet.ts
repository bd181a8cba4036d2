import { interpolate } from './interpolate.ts'
import type { Setting } from './model.ts'
import { createServo } from './parts.ts'

type Curve = readonly (readonly [number, number])[]

export interface OutletDesign {
  kind: 'jets' | 'spears' | 'vanes' | 'none'
  /** Share of the discharge that each lets through; together 1. */
  shares: readonly number[]
  /** Discharge [m³/s] with all open at `head` [m] and the speed that belongs to it. */
  discharge: number
  head: number
  /** Relative discharge over the stroke; where absent, both are the same. */
  flowOverStroke: Curve | undefined
  /** Share of the stroke per second, driven and when the machine is stopped [1/s]. */
  rate: number
  closingRate: number
  /** Turbine efficiency over the share of discharge, and where it belongs to each jet, over its own opening. */
  efficiency: Curve
  jetEfficiency: Curve | undefined
  /** Change of reduced discharge with reduced speed: Q₁₁ = 1 + c·(n₁₁ − 1), kept within 0.3 … 2. */
  speedEffect: number
}

export interface OutletOrders {
  settings: Readonly<Record<string, Setting>>
  /** Highest opening that is allowed now; 0 when the machine is stopped. */
  most: number
  /** Speed over that which belongs to the present head. */
  reducedSpeed: number
}

/** What people set, and what an instrument at each shows. */
const KINDS = {
  jets: { setting: 'jet', quantity: 'jetOpen', initial: true },
  spears: { setting: 'spear', quantity: 'needleStroke', initial: 1 },
  vanes: { setting: 'vane', quantity: 'guideVaneOpening', initial: 1 },
  none: undefined,
} as const

/** Nozzles, spears or guide vanes, each of which moves by itself: Q = opening · Q_full · Q₁₁ · √(H / H_full). */
export function createOutlet(design: OutletDesign) {
  const { shares } = design
  const kind = KINDS[design.kind]
  const ids = kind ? shares.map((_, i) => `${kind.setting}-${i + 1}`) : []
  const servos = shares.map(() => createServo(1))
  let opening = 1
  let reducedDischarge = 1
  const flowAt = (stroke: number) =>
    design.flowOverStroke ? interpolate(design.flowOverStroke, stroke) : stroke
  const totalOpening = () => shares.reduce((sum, share, i) => sum + share * flowAt(servos[i]!.position()), 0)

  return {
    settings: Object.fromEntries(ids.map((id) => [id, kind!.initial])) as Record<string, Setting>,
    /** Share of full discharge that runs at rated head and speed. */
    opening: () => opening,
    /** Head per discharge squared [s²/m⁵]; Infinity when all is shut. */
    resistance: () => design.head / (opening * reducedDischarge * design.discharge) ** 2,
    /** Each jet brings water in proportion to its opening, at the efficiency of that opening. */
    efficiency(discharge: number): number {
      const { jetEfficiency, efficiency } = design
      if (jetEfficiency && opening > 0)
        return shares.reduce((sum, share, i) => {
          const stroke = servos[i]!.position()
          return sum + (share * flowAt(stroke) * interpolate(jetEfficiency, stroke)) / opening
        }, 0)
      // Jets leave the wheel alike at any head; the cells of vanes are filled by the discharge.
      return interpolate(efficiency, design.kind === 'vanes' ? discharge / design.discharge : opening)
    },
    step(dt: number, { settings, most, reducedSpeed }: OutletOrders): void {
      const rate = most === 0 ? design.closingRate : design.rate
      ids.forEach((id, i) => {
        servos[i]!.step(dt, Math.min(most, Number(settings[id])), rate)
      })
      opening = totalOpening()
      reducedDischarge = Math.min(2, Math.max(0.3, 1 + design.speedEffect * (reducedSpeed - 1)))
    },
    truth(): Record<string, number> {
      if (!kind) return {}
      const read = (position: number) => (kind === KINDS.jets ? Number(position > 0.5) : position)
      return Object.fromEntries(
        servos.map((servo, i) => [`${kind.quantity}.${i + 1}`, read(servo.position())]),
      )
    },
  }
}
