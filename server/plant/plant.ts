import type { Unit } from '../wire/units.ts'
import type { Role } from './roles.ts'
import type { AccuracyFile, InstrumentFile, PayloadFile, PlantFile, ScaleFile } from './schema.ts'

/** One instrument, ready to be read. */
export interface Instrument {
  id: string
  name: string
  /** What it supplies: its role with suffix, e.g. "jetOpen.2", or its own id where it has no role. */
  quantity: string
  role: Role | undefined
  topic: string
  payload: PayloadFile
  /** Unit of the payload after scaling. */
  unit: Unit
  /** SI unit that `unit` is converted to. */
  siUnit: Unit
  scale: ScaleFile | undefined
  /** Measuring range in `unit`. */
  range: readonly [low: number, high: number] | undefined
  /** As the plant file states it, or assumed. */
  accuracy: AccuracyFile | undefined
  /** By what the accuracy is assumed; absent where the plant file states it. */
  assumed?: string
  periodMs: number
  staleAfterMs: number
  /** False: sent only on change, so silence means "as before". */
  periodic: boolean
}

/** A validated plant file. Everything in SI, times in ms. */
export interface Plant extends Omit<PlantFile, 'instruments'> {
  instruments: Instrument[]
  /** Every number of the file's sections by path, e.g. "turbine.pitchDiameter", in SI. */
  constants: ReadonlyMap<string, number>
  /** The ± that the file states of constants and curves, by path. */
  plusMinus: ReadonlyMap<string, StatedError>
  /** Where it came from, for messages. */
  file: string
  /** The file as it was read; absent for plants that were put together otherwise. */
  text?: string
  /** What it says that can hardly be meant (server/plausible/), in the order of its lines. */
  doubts?: readonly PlantFault[]
}

/** The ± of a constant or of the points of a curve, as the plant file states it (plusMinus.ts). */
export interface StatedError {
  /** Half-width of the limits: in the SI unit, or as a share of the value. */
  half: number
  isShare: boolean
  isRectangular: boolean
  /** What names the same one errs by the same part of its limits. */
  calibration?: string
}

/** One thing wrong with a plant file. */
export interface PlantFault {
  /** missing: nothing is wrong, but something should be there. seen: what arrives says otherwise. */
  kind?: 'missing' | 'seen'
  /** e.g. "instruments[2].unit". */
  path: string
  /** Line in the file, from 1; absent when the key is missing. */
  line?: number
  received: string
  expected: string
}

export type PlantResult =
  | { plant: Plant /** Line of what stands at a path such as "alarms[2].limit". */; lineOf: LineOf }
  | { faults: PlantFault[] /** What is left without what is faulty; absent where nothing is. */; rest?: Rest }

/** A plant without what is faulty in its file: good for finding further faults, and for nothing else. */
export interface Rest {
  plant: Plant
  lineOf: LineOf
  /** What the instruments that are left out would have supplied. */
  lost: ReadonlySet<string>
}

export type LineOf = (path: string) => number | undefined

export type { InstrumentFile }
