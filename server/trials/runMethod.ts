import { createHash } from 'node:crypto'
import { basename } from 'node:path'
import { relations } from '../derive/balance/relations/index.ts'
import { accuracyWords } from '../derive/explain.ts'
import type { LivePlant } from '../livePlant.ts'
import type { Instrument, Plant } from '../plant/plant.ts'
import { VERSION } from '../version.ts'
import type { SeriesRule } from '../wire/findings.ts'
import type { TrialView } from '../wire/trial.ts'
import type { Stage, StageRule } from './balance/balanceTable.ts'
import type { Theory } from './theory/theory.ts'
import type { TracePlan } from './trace/tracePlan.ts'
import type { FitChoice, Trial } from './trial.ts'
import { fitOf, viewTrial } from './trialView.ts'
import { type Working, workingsOf } from './workings.ts'

/** What is fixed when a run begins, so that it can be understood years later. */
export interface RunMethod {
  view: TrialView
  /** Curve and what goes into it. */
  fit: FitMethod
  /** Absent in runs from before there were any. */
  further?: ({ name: string } & FitMethod)[]
  series?: SeriesRule[]
  stages?: StageRule[]
  /** Constants of the plant file that checks are held against, by path. */
  references?: Record<string, number>
  /** Steadiness limits by figure. */
  steady: Record<string, number>
  /** Instruments as described in the plant file then. */
  instruments: MethodInstrument[]
  /** How the figures follow from the readings; absent in runs of older versions, like what stands below. */
  workings?: Working[]
  theory?: Theory
  /** The plant file of then, by the checksum under which its text is stored. */
  plantFile?: { name: string; sha256: string }
  timeZone?: string
  /** Not a real machine. */
  isSimulated?: boolean
  plantName: string
  version: string
  /** Only in trials that record traces. */
  trace?: TracePlan
}

export interface MethodInstrument {
  id: string
  name: string
  quantity: string
  unit: string
  accuracy: string
  /** Absent where the plant file states no accuracy. */
  limits?: InstrumentLimits
  /** Range in `unit`. */
  range?: [low: number, high: number]
}

/** Limits of error, in the SI unit: a(x) = share·|x − zero| + fixed (derive/instrumentUncertainty.ts). */
export interface InstrumentLimits {
  share: number
  zero: number
  fixed: number
  isRectangular: boolean
  resolution: number
  /** Those that name the same one err together. */
  calibration?: string
}

export interface FitMethod {
  model: string
  symbols: Record<string, string>
  constants: Record<string, number>
  best: boolean
  inBoth?: boolean
}

/** Everything about the trial that has to be known to understand the run later. */
export function methodOf(trial: Trial, live: LivePlant, typed?: string): RunMethod {
  const { plan, plant } = live
  const theory = trial.theory?.(plant)
  const view = viewTrial(trial, plan, typed)
  return {
    view,
    fit: fitMethod(fitOf(trial, plan), plant),
    further: (trial.further ?? []).map((one) => ({ name: one.name, ...fitMethod(one, plant) })),
    series: [...(trial.series?.(plant) ?? [])],
    stages: (trial.stages ?? []).map((stage) => ({ ...stage, share: shareOf(stage, plant) })),
    references: referencesOf(trial, plant),
    steady: { ...trial.steady },
    instruments: plant.instruments.map((one) => ({
      id: one.id,
      name: one.name,
      quantity: one.quantity,
      unit: one.unit.code,
      accuracy: accuracyWords(one),
      ...(one.range ? { range: [one.range[0], one.range[1]] as [number, number] } : {}),
      ...(one.accuracy ? { limits: limitsOf(one) } : {}),
    })),
    workings: workingsOf(
      view.figures.map(({ id }) => id),
      plan,
    ),
    ...(theory ? { theory } : {}),
    ...originOf(plant),
  }
}

/** Where and with what it was recorded. */
export function originOf(
  plant: Plant,
): Pick<RunMethod, 'plantFile' | 'timeZone' | 'isSimulated' | 'plantName' | 'version'> {
  return {
    ...(plant.text === undefined ? {} : { plantFile: fileOf(plant.file, plant.text) }),
    timeZone: plant.site.timeZone,
    isSimulated: plant.simulated,
    plantName: plant.name,
    version: VERSION,
  }
}

function fileOf(path: string, text: string): { name: string; sha256: string } {
  return { name: basename(path), sha256: createHash('sha256').update(text).digest('hex') }
}

function limitsOf({ accuracy, unit, range }: Instrument): InstrumentLimits {
  const { reading = 0, span = 0, absolute = 0, resolution = 0, distribution, calibration } = accuracy!
  const wide = range ? range[1] - range[0] : 0
  return {
    share: reading,
    zero: unit.offset,
    fixed: (span * wide + absolute) * unit.factor,
    isRectangular: distribution === 'rectangular',
    resolution: resolution * unit.factor,
    ...(calibration === undefined ? {} : { calibration }),
  }
}
function fitMethod(choice: FitChoice, { constants }: Plant): FitMethod {
  const known = Object.entries(choice.constants ?? {}).map(([symbol, path]): [string, number] => [
    symbol,
    constants.get(path) ?? Number.NaN,
  ])
  return {
    model: choice.model,
    symbols: { ...choice.symbols },
    constants: Object.fromEntries(known),
    best: choice.best ?? false,
    inBoth: choice.inBoth ?? false,
  }
}

/** How well the curve behind a stage is known: what the plant file says, or what is usual. */
function shareOf({ gap }: Stage, { balance }: Plant): number {
  if (gap === null) return 0
  return balance[gap] ?? relations.find(({ id }) => id === gap)?.share ?? 0
}

function referencesOf({ checks }: Trial, { constants }: Plant): Record<string, number> {
  const paths = checks.flatMap((check) => (typeof check === 'string' ? [] : (check.references ?? [])))
  return Object.fromEntries(
    paths.flatMap((path) => {
      const value = constants.get(path)
      return value === undefined ? [] : [[path, value]]
    }),
  )
}
