import { batteryBalance } from './batteryBalance.ts'
import { loadRejection } from './loadRejection.ts'
import { loadStep } from './loadStep.ts'
import type { Reduction } from './reduction.ts'
import { runDown } from './runDown.ts'

/** Reductions by id. */
export const reductions: ReadonlyMap<string, Reduction> = new Map(
  [runDown, loadStep, batteryBalance, loadRejection].map((one) => [one.id, one]),
)
