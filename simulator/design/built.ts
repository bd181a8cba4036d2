import { z } from 'zod'
import { curve, idField, measure, ratio } from '../../server/plant/fields.ts'

/**
 * `simulation.built` of a plant file: what its other sections do not tell of the plant as it stands, because nobody who
 * watches it needs to know. What is left out is as usual for its kind (common practice, no source).
 */

/** How much warmer than the air a part gets at rated load, and its time constant. */
const warming = z.strictObject({ rise: measure('K'), timeConstant: measure('s') })

/** River, pond and what stays in the river. */
const pond = z.strictObject({
  /** Reading of its gauge that a run begins with. */
  level: measure('m'),
  /** Id of the control that sets what comes down the river. */
  inflow: idField.default('stream'),
  /** Of an opening that is never shut, at that level; it grows with the root of the level. */
  sluiceFlow: measure('m3/s').default(0),
  waves: z
    .strictObject({ height: measure('m'), period: measure('s') })
    .prefault({ height: '2 mm', period: '2 s' }),
  /** Reading of the tailwater's gauge. */
  tailwaterLevel: measure('m').default(0),
})

/** Water of a rig that goes round. */
const sump = z.strictObject({
  /** Without circulation, over the zero of its gauge. */
  level: measure('m'),
  area: measure('m2').prefault('0.5 m2'),
  /** Of all the water, with the pump at its rated power. */
  warming: warming.prefault({ rise: '12 K', timeConstant: '3 h' }),
})

const pump = z.strictObject({
  bestDischarge: measure('m3/s').optional(),
  bestEfficiency: ratio().default(0.65),
  motorEfficiency: ratio().default(0.84),
  driveEfficiency: ratio().default(0.96),
})

/** Valve before the machine, equal-percentage. */
const throttle = z.strictObject({
  openLoss: ratio().default(2),
  rangeability: ratio().default(50),
  strokeTime: measure('s').default(5),
})

const turbine = z.strictObject({
  /** What lets the water in: valves that are open or shut, spears, guide vanes, or nothing (a pump as turbine). */
  inlet: z.enum(['jets', 'spears', 'vanes', 'none']).optional(),
  /** Shares of guide vanes that move by themselves. */
  cells: z.array(ratio()).min(1).max(4).default([1]),
  /** Efficiency over the opening of one jet, where it is no matter of all of them together. */
  jetEfficiency: curve.optional(),
  /** Full stroke when driven; penstock.closingTime is that of a stop. */
  strokeTime: measure('s').optional(),
  /** e in T = T₀·(1 − (ω/ω_runaway)^e); default: the rated speed is the best one. */
  torqueExponent: ratio().optional(),
  /** Change of the reduced discharge with the reduced speed; 0 for impulse machines. */
  speedEffect: ratio().optional(),
})

const generator = z.strictObject({
  /** Iron, windage and bearings at rated speed; default 2 % of rated power. */
  noLoadLoss: measure('W').optional(),
  /** Of it what is dry friction, the same torque at every speed. */
  dryShare: ratio().default(0.1),
  /** A flywheel that can be fitted. */
  flywheel: measure('kg.m2').default(0),
  winding: warming.prefault({ rise: '50 K', timeConstant: '45 min' }),
  bearings: z
    .array(warming)
    .max(4)
    .prefault([{ rise: '20 K', timeConstant: '12 min' }]),
  /** Induction machine: slip of the highest torque, reactive power without load. */
  breakdownSlip: ratio().optional(),
  noLoadReactive: measure('var').optional(),
  /** Synchronous machine, per phase at rated frequency, and the field's time constant without load. */
  synchronousReactance: measure('Ohm').optional(),
  transientReactance: measure('Ohm').optional(),
  fieldTime: measure('s').default(1.5),
})

/** Hard-wired switch on the speed, and what it acts on besides the water. */
const overSpeed = z.strictObject({
  /** Share of rated speed, and the time from there to the contact having moved. */
  level: ratio(),
  delay: measure('s').default(0.04),
  deflector: z.strictObject({ strokeTime: measure('s'), returnTime: measure('s') }).optional(),
  /** Resistors in star on the terminals of a permanent-magnet machine. */
  brake: measure('Ohm').optional(),
})

const battery = z.strictObject({
  charge: ratio().default(0.6),
  resistance: measure('Ohm').optional(),
  warming: warming.prefault({ rise: '5 K', timeConstant: '3 h' }),
})

/** Where the dump load begins and is full on: a bus voltage or, on a grid of its own, a frequency. */
const amount = z.union([measure('V'), measure('Hz')])
const dump = z.strictObject({
  from: amount.optional(),
  full: amount.optional(),
  lag: measure('s').default(0.03),
  warming: warming.prefault({ rise: '100 K', timeConstant: '3 min' }),
})

/** Battery bus behind rectifier and charge controller: input window and most output of the controller. */
const bus = z.strictObject({
  lowestInput: measure('V').optional(),
  highestInput: measure('V').optional(),
  highestOutput: measure('A').optional(),
  /** Of the inverter. */
  noLoadPower: measure('W').optional(),
})

/** Power over frequency: none at `from`, all at `full`. */
const droop = z.strictObject({ from: measure('Hz'), full: measure('Hz'), power: measure('W') })

/** A grid of its own. */
const island = z.strictObject({
  /** Id of the control of the switch before the consumers; it opens below a frequency. */
  feeder: idField.default('feeder'),
  lowest: measure('Hz').optional(),
  delay: measure('s').default(1),
  reconnect: measure('Hz').optional(),
  /** Battery inverter, where there is a battery. */
  charge: droop.optional(),
  discharge: droop.optional(),
})

const grid = z.strictObject({
  /** Fixed capacitors. */
  capacitors: measure('var').default(0),
  /** The grid is gone for this long when the mains relay opens. */
  relayDelay: measure('s').default(0.06),
  /** Opening while the machine is run up, and share of the grid's speed at which it is connected. */
  runUp: ratio().default(0.12),
  connectAt: ratio().default(0.995),
})

const consumer = z.strictObject({
  /** Also of its control. */
  id: idField,
  kind: z.enum(['switch', 'count', 'demand']).default('switch'),
  /** Of one; of a demand that of the beginning. */
  power: measure('W'),
  powerFactor: ratio().default(1),
  /** How much people change it by themselves. */
  habits: ratio().default(0),
  /** Whether, or how many, are on in the beginning. */
  on: z.union([z.boolean(), z.number()]).default(true),
})

export const builtSchema = z.strictObject({
  airTemperature: measure('K').default(288.15),
  /** Head that the clean rack, or the strainer of a sump, takes at rated discharge. */
  rackLoss: measure('m').default(0.03),
  pond: pond.optional(),
  sump: sump.optional(),
  pump: pump.prefault({}),
  throttle: throttle.optional(),
  turbine: turbine.prefault({}),
  generator: generator.prefault({}),
  overSpeed: overSpeed.optional(),
  battery: battery.prefault({}),
  dump: dump.prefault({}),
  bus: bus.optional(),
  island: island.optional(),
  grid: grid.optional(),
  consumers: z.array(consumer).max(20).default([]),
})

export type Built = z.output<typeof builtSchema>
