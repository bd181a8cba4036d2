import { z } from 'zod'
import { curve, measure, ratio } from './fields.ts'

/** Sections about water beside the turbine: where it is stored, spilt and left in the river. */

/**
 * Its water counts as residual flow: where the file does not say, yes; no where a weir measures the residual flow, since
 * that one then has it all.
 */
const reachesRiver = z.boolean().optional()

/** Weir over which the intake spills; its level is that of rackUpstreamLevel, or headwaterLevel without one. */
export const spillway = z.strictObject({
  /** Reading of the level instrument at which water begins to spill. */
  crest: measure('m'),
  width: measure('m'),
  /** C in Q = C·b·h^1.5, metric: 1.7 broad crest … 1.85 sharp. */
  coefficient: ratio().default(1.7),
  reachesRiver,
})

/** Water that can be drawn from before the level is too low: a table, or a surface with straight walls. */
export const forebay = z.strictObject({
  /** Water surface. */
  area: measure('m2').optional(),
  /** [level in m, volume in m³], ascending; level as read by the instrument. */
  volumeCurve: curve.optional(),
  /** Lowest level at which the machine may run. */
  lowestLevel: measure('m'),
})

/** Orifice that leaves the residual flow in the river; its head is headwaterLevel less `centre`. */
export const residualOutlet = z.strictObject({
  area: measure('m2'),
  coefficient: ratio().default(0.6),
  /** Reading of the level instrument at the centre of the opening. */
  centre: measure('m'),
  reachesRiver,
})
