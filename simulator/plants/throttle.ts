import { createServo } from './parts.ts'
import type { PipeDesign } from './waterColumn.ts'

export interface ThrottleDesign {
  /** ΣK of the open valve; it is part of that of the pipe. */
  openLoss: number
  /** Flow fully open over flow hardly open, at the same loss. */
  rangeability: number
  /** Share of the stroke per second [1/s]. */
  rate: number
  /** A stop of the machine shuts it, for nothing else does. */
  shutsOnStop: boolean
}

/** Below this opening it is shut. */
const SHUT = 0.005

/** Valve before the outlet, equal-percentage: K = K_open·R^(2·(1 − opening)). Source: usual valve characteristic (from memory). */
export function createThrottle(design: ThrottleDesign, pipe: PipeDesign) {
  const servo = createServo(1)
  const { openLoss, rangeability } = design
  const velocityHeadPerQ2 = 1 / (2 * pipe.gravity * ((Math.PI / 4) * pipe.bore ** 2) ** 2)
  let resistance = 0
  return {
    /** 0 … 1 */
    opening: servo.position,
    /** What it loses more than when it is open, as head per discharge squared [s²/m⁵]; Infinity when shut. */
    resistance: () => resistance,
    step(dt: number, { opening, isShut }: { opening: number; isShut: boolean }): void {
      const before = servo.position()
      servo.step(dt, isShut && design.shutsOnStop ? 0 : opening, design.rate)
      if (servo.position() === before) return
      resistance =
        servo.position() < SHUT
          ? Number.POSITIVE_INFINITY
          : openLoss * (rangeability ** (2 * (1 - servo.position())) - 1) * velocityHeadPerQ2
    },
  }
}
