import { z } from 'zod'
import { measure, ratio } from './fields.ts'

/** Sections about what flow follows from: weirs, and what makes a pressure difference. */

/** What a calibration of this very meter gave, over the formula: 1 where there was none. */
const calibrationFactor = ratio().default(1)

/** The weir that the instrument with role weirHead looks at: crestWidth and so on, or notchAngle. */
export const weir = z.strictObject({
  /** Crest or vertex over the floor of the channel. */
  crestHeight: measure('m').optional(),
  crestWidth: measure('m').optional(),
  channelWidth: measure('m').optional(),
  notchAngle: measure('rad').optional(),
  calibrationFactor,
  /** Which flow goes over it, where it is one of these. */
  measures: z.enum(['residualFlow', 'spillFlow']).optional(),
})

/** The orifice plate of the instrument with role meterPressureDifference. */
export const orifice = z.strictObject({
  bore: measure('m'),
  pipeBore: measure('m'),
  /** radius: one bore of the pipe before and half of it behind the plate (D and D/2). */
  tappings: z.enum(['corner', 'flange', 'radius']).default('corner'),
  calibrationFactor,
})

/** The classical venturi tube of the instrument with role meterPressureDifference. */
export const venturi = z.strictObject({
  throat: measure('m'),
  pipeBore: measure('m'),
  /** Of its convergent part. */
  convergent: z.enum(['machined', 'asCast', 'welded']),
  calibrationFactor,
})

/** Taps of a spiral case (Winter–Kennedy), read with role indexPressureDifference: one point where both were measured. */
export const indexTaps = z.strictObject({
  discharge: measure('m3/s'),
  pressureDifference: measure('Pa'),
  exponent: ratio().default(0.5),
})
