import { z } from 'zod'
import { alarm } from './alarmSchema.ts'
import {
  curve,
  duration,
  idField,
  measure,
  quantityField,
  ratio,
  timeZoneField,
  topicField,
  unitField,
} from './fields.ts'
import { generator, penstock, pump, turbine } from './machineSchema.ts'
import { indexTaps, orifice, venturi, weir } from './meterSchema.ts'
import { MOST_OWN_FIGURES, ownFigure } from './ownFigureSchema.ts'
import { forebay, residualOutlet, spillway } from './waterSchema.ts'

/**
 * The plant file: one YAML document that says what a plant is and what its instruments publish. Everything
 * that is read here is in SI afterwards (times in ms). Names follow the glossary in DEVELOPERS.md.
 */

/** A JSON pointer (RFC 6901). */
const pointer = z
  .string()
  .regex(/^(\/.*)?$/, { error: 'expected a JSON pointer such as "/p/bar", or "" for the whole document' })

/** How a payload carries its value. Further fields belong to the format named (ingest/formats/). */
const payload = z.union(
  [
    z.literal('number'),
    z.strictObject({
      format: z.literal('json'),
      /** JSON pointer (RFC 6901) to the value; "" is the whole document. */
      value: pointer.default(''),
      /** JSON pointer to the time of measurement. */
      time: pointer.optional(),
      timeUnit: z.enum(['s', 'ms', 'us', 'ns', 'iso']).default('ms'),
      /** JSON pointer to the highest value since the message before. */
      peak: pointer.optional(),
      /** JSON pointer to a text with the unit; must then equal the instrument's unit. */
      unit: pointer.optional(),
    }),
    z.strictObject({
      format: z.literal('lineProtocol'),
      measurement: z.string().min(1),
      field: z.string().min(1),
      tags: z.record(z.string(), z.string()).default({}),
      timeUnit: z.enum(['s', 'ms', 'us', 'ns']).default('ns'),
    }),
  ],
  { error: 'expected "number", or a mapping with "format: json" or "format: lineProtocol"' },
)

/** What the payload's number is, before it is in the instrument's unit. */
const scale = z.union(
  [
    /** The number is a loop current in mA: 4 … 20 mA spans `range`. */
    z.strictObject({ kind: z.literal('loop') }),
    z.strictObject({
      kind: z.literal('linear'),
      factor: z.number().default(1),
      offset: z.number().default(0),
    }),
    z.strictObject({
      kind: z.literal('points'),
      from: z.array(z.number()).min(2),
      to: z.array(z.number()).min(2),
    }),
  ],
  { error: 'expected a mapping with "kind: loop", "kind: linear" or "kind: points"' },
)

export const accuracy = z.strictObject({
  /** Limits of error as a share of the reading. */
  reading: ratio().optional(),
  /** Limits of error as a share of the span (high − low of `range`). */
  span: ratio().optional(),
  /** Limits of error in the instrument's unit. */
  absolute: z.number().nonnegative().optional(),
  /** Smallest step, in the instrument's unit. */
  resolution: z.number().nonnegative().optional(),
  /** rectangular: the limits are never passed. normal: they are a 95 % interval (a calibration certificate). */
  distribution: z.enum(['rectangular', 'normal']).default('rectangular'),
  /** Instruments that name the same calibration err together, each by the same part of its limits: channels of one meter. */
  calibration: idField.optional(),
})

const instrument = z.strictObject({
  id: idField,
  name: z.string().max(80).optional(),
  /** Quantity it measures (server/plant/roles.ts); without one it is shown and stored under its own id. */
  role: quantityField.optional(),
  topic: topicField.refine((topic) => !topic.startsWith('headrace/'), {
    error: 'expected a topic outside "headrace/", where this server itself publishes',
  }),
  payload: payload.default('number'),
  unit: unitField,
  scale: scale.optional(),
  range: z.tuple([z.number(), z.number()]).optional(),
  accuracy: accuracy.optional(),
  /** Expected time between two messages. */
  period: duration().default(1000),
  /** Longest silence before the value counts as stale; default max(3 × period, 5 s). */
  staleAfter: duration().optional(),
  /** False for a topic that is sent only on change: it never goes stale while the source is connected. */
  periodic: z.boolean().default(true),
})

const control = z.strictObject({
  id: idField,
  name: z.string().max(60),
  kind: z.enum(['switch', 'slider', 'choice']),
  /** Command topic that the simulator listens to. */
  topic: topicField,
  min: z.number().exactOptional(),
  max: z.number().exactOptional(),
  step: z.number().positive().exactOptional(),
  unit: unitField.exactOptional(),
  choices: z.array(z.strictObject({ id: z.string(), name: z.string() })).exactOptional(),
  figure: quantityField.exactOptional(),
  initial: z.union([z.number(), z.string(), z.boolean()]),
})

export const plantFileSchema = z.strictObject({
  headrace: z.literal(1, { error: 'expected 1, the version of the plant file' }),
  id: idField,
  name: z.string().min(1).max(80),
  summary: z.string().max(160).default(''),
  /** rig: a teaching rig. offGrid: the plant makes its own frequency. gridTied: the grid holds it. */
  use: z.enum(['rig', 'offGrid', 'gridTied']),
  /** True only for plants that the bundled simulator plays: every value is then stamped SIM. */
  simulated: z.boolean().default(false),
  site: z.strictObject({
    timeZone: timeZoneField,
    latitude: measure('rad').optional(),
    altitude: measure('m').default(0),
    /** Used where no instrument measures it. */
    waterTemperature: measure('K').default(288.15),
    /** Given only where the local value is known better than latitude and altitude tell. */
    gravity: measure('m/s2').optional(),
    waterDensity: measure('kg/m3').optional(),
    elevations: z
      .strictObject({
        /** Jet contact or nozzle centreline of an impulse machine; runner centre otherwise. */
        turbine: measure('m').optional(),
        /** Centre of the turbine inlet pressure gauge. */
        inletGauge: measure('m').optional(),
        /** Elevation at which the headwater level instrument reads zero; 0 m where it is not given. */
        headwaterZero: measure('m').optional(),
        tailwaterZero: measure('m').optional(),
        /** The tailwater at rated discharge, where no instrument reads it. */
        tailwater: measure('m').optional(),
        /** Centre of the pump delivery gauge of a rig. */
        pumpGauge: measure('m').optional(),
      })
      .default({}),
  }),
  turbine: turbine.optional(),
  generator: generator.optional(),
  penstock: penstock.optional(),
  spillway: spillway.optional(),
  forebay: forebay.optional(),
  residualOutlet: residualOutlet.optional(),
  weir: weir.optional(),
  orifice: orifice.optional(),
  venturi: venturi.optional(),
  indexTaps: indexTaps.optional(),
  pump: pump.optional(),
  battery: z
    .strictObject({
      ratedCharge: measure('C'),
      ratedVoltage: measure('V'),
      chargeEfficiency: ratio().default(1),
      /** At or above this with less than the tail current, it is full: the anchor of a counted state of charge. */
      fullVoltage: measure('V').optional(),
      /** Default: 5 % of the rated charge per hour. */
      tailCurrent: measure('A').optional(),
      /** State of charge to count from before the first anchor; uncertain. */
      startCharge: ratio().optional(),
    })
    .optional(),
  /** Between rectifier and battery bus; none where the rectifier feeds the bus itself. */
  charger: z
    .strictObject({
      efficiency: ratio().default(1),
      rectifierEfficiency: ratio().optional(),
      /** Of the two diodes of the rectifier that carry current at a time. */
      diodeDrop: measure('V').optional(),
    })
    .optional(),
  dump: z.strictObject({ ratedPower: measure('W') }).optional(),
  inverter: z
    .strictObject({
      ratedPower: measure('W'),
      /** [share of rated power, efficiency], ascending. */
      efficiencyCurve: curve.optional(),
    })
    .optional(),
  /** Standard uncertainty of a relation between instruments, as a share, by the id of its residual; e.g. "generatorResidual: 1 %". */
  relations: z.record(quantityField, ratio()).default({}),
  /** Consumers, for an estimate of what they were not given. */
  loads: z
    .strictObject({
      ratedPower: measure('W').optional(),
      /** What is switched off when an instrument with role loadShed says so. */
      shedPower: measure('W').optional(),
      /** Below this the consumers count as not supplied. */
      lowestFrequency: measure('Hz').optional(),
    })
    .optional(),
  licence: z
    .strictObject({
      maximumDischarge: measure('m3/s').optional(),
      handsOffFlow: measure('m3/s').optional(),
      dailyVolume: measure('m3').optional(),
      annualVolume: measure('m3').optional(),
    })
    .optional(),
  instruments: z.array(instrument).min(1).max(500),
  figures: z.array(ownFigure).max(MOST_OWN_FIGURES).default([]),
  alarms: z.array(alarm).max(200).default([]),
  show: z
    .strictObject({
      keyFigures: z.array(quantityField).max(12).optional(),
      trends: z.array(quantityField).max(12).optional(),
    })
    .default({}),
  simulation: z
    .strictObject({
      controls: z.array(control).max(60).default([]),
      /** The plant as it stands, for the simulator alone, which has its schema. */
      built: z.record(z.string(), z.unknown()).exactOptional(),
    })
    .optional(),
})

/** A plant file after reading: SI, defaults filled in. */
export type PlantFile = z.output<typeof plantFileSchema>
export type InstrumentFile = PlantFile['instruments'][number]
export type OwnFigureFile = PlantFile['figures'][number]
export type AlarmFile = PlantFile['alarms'][number]
export type PayloadFile = InstrumentFile['payload']
export type ScaleFile = NonNullable<InstrumentFile['scale']>
export type AccuracyFile = NonNullable<InstrumentFile['accuracy']>
