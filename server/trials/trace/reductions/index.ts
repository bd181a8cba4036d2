import type { Reduction } from './reduction.ts'
import { runDown } from './runDown.ts'

/** Reductions by id. */
export const reductions: ReadonlyMap<string, Reduction> = new Map([runDown].map((one) => [one.id, one]))
