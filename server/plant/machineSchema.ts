import { z } from 'zod'
import { curve, measure, plain, ratio } from './fields.ts'

/** Sections about machines and their pipe. */

export const turbine = z.strictObject({
  kind: z.enum(['pelton', 'turgo', 'crossflow', 'francis', 'kaplan', 'propeller', 'pumpAsTurbine']),
  jets: plain(z.int().min(1).max(8)).optional(),
  /** A crossflow machine with a draft tube is referred to the tailwater, one without to the runner. */
  draftTube: z.boolean().default(false),
  /** Cross-section at the outlet of the draft tube, for the velocity head that is lost there. */
  draftTubeArea: measure('m2').optional(),
  pitchDiameter: measure('m').optional(),
  nozzleBore: measure('m').optional(),
  /** Cd of one nozzle, referred to its bore. */
  nozzleCoefficient: ratio().optional(),
  /** [needle stroke, Cd of that stroke referred to the bore], ascending; for spear nozzles. */
  nozzleCurve: curve.optional(),
  /** Cv: jet velocity over √(2gH). */
  velocityCoefficient: ratio().optional(),
  /** Bore of the pipe at the inlet pressure tapping. */
  inletBore: measure('m').optional(),
  ratedNetHead: measure('m').optional(),
  ratedDischarge: measure('m3/s').optional(),
  /** Discharge of the best efficiency over the rated one. */
  bestShare: ratio().optional(),
  ratedSpeed: measure('rad/s').optional(),
  ratedShaftPower: measure('W').optional(),
  runawaySpeed: measure('rad/s').optional(),
  /** Ratio generator speed : turbine speed. */
  driveRatio: ratio().default(1),
  driveEfficiency: ratio().default(1),
  /** [share of rated discharge, efficiency], ascending; from commissioning. */
  efficiencyCurve: curve.optional(),
})

export const generator = z.strictObject({
  kind: z.enum(['permanentMagnet', 'synchronous', 'induction', 'directCurrent']),
  phases: plain(z.union([z.literal(1), z.literal(3)])).default(3),
  polePairs: plain(z.int().min(1).max(48)).optional(),
  ratedPower: measure('W').optional(),
  /** From phase to neutral, RMS: a plate with 400 V between phases is 231 V here. Of a direct-current machine that between its terminals. */
  ratedVoltage: measure('V').optional(),
  ratedCurrent: measure('A').optional(),
  ratedFrequency: measure('Hz').optional(),
  /** Power factor of what hangs on the terminals, where no instrument gives it. */
  loadPowerFactor: ratio().optional(),
  ratedSpeed: measure('rad/s').optional(),
  /** Highest speed the maker declares it survives. */
  overSpeedCapability: measure('rad/s').optional(),
  inertia: measure('kg.m2').optional(),
  /** Permanent-magnet machine: RMS voltage of one phase without load over speed, e.g. "18 mV/{rpm}". */
  voltageConstant: measure('V.s/rad').optional(),
  /** Of one phase, warm. */
  windingResistance: measure('Ohm').optional(),
  windingInductance: measure('H').optional(),
  /** [share of rated power, efficiency], ascending. */
  efficiencyCurve: curve.optional(),
})

export const penstock = z.strictObject({
  bore: measure('m'),
  length: measure('m'),
  roughness: measure('m'),
  /** ΣK of bends, valves, inlet. */
  minorLoss: ratio().default(0),
  waveSpeed: measure('m/s').optional(),
  /** Shortest time in which the valve, spears or vanes close. */
  closingTime: measure('s').optional(),
})

export const pump = z.strictObject({
  ratedHead: measure('m').optional(),
  ratedDischarge: measure('m3/s').optional(),
  /** [share of rated discharge, share of rated head] at full speed, ascending. */
  headCurve: curve.optional(),
  /** Delivery gauge over suction gauge; without a suction gauge over the zero of the sump level. */
  gaugeRise: measure('m').optional(),
  inletBore: measure('m').optional(),
  outletBore: measure('m').optional(),
})
