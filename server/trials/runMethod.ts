import { createHash } from 'node:crypto'
import { basename } from 'node:path'
import { relations } from '../derive/agreement/relations/index.ts'
import { constantError } from '../derive/constantUncertainty.ts'
import { accuracyWords } from '../derive/explain.ts'
import { type ErrorLimits, errorLimits } from '../derive/instrumentUncertainty.ts'
import type { Plan } from '../derive/plan.ts'
import { granted, type Outcome, refuse } from '../outcome.ts'
import type { Instrument, Plant } from '../plant/plant.ts'
import { VERSION } from '../version.ts'
import type { SeriesRule } from '../wire/findings.ts'
import type { PointTrialView, RunRequest, TraceTrialView } from '../wire/trial.ts'
import type { Stage, StageRule } from './balance/balanceTable.ts'
import { constantSource, type MethodConstant, methodConstants } from './constants.ts'
import { trials } from './definitions/index.ts'
import type { Theory } from './theory/theories.ts'
import { recordedBy, viewTraceTrial } from './trace/traceTrialView.ts'
import type { BeginRule, Condition, FitChoice, PointTrial, TraceTrial, Trial } from './trial.ts'
import { fitOf, viewPointTrial } from './trialView.ts'
import { type Working, workingsOf } from './workings.ts'

/** What is fixed when a run begins, so that it goes on after a restart and can be understood years later. */
export type RunMethod = PointMethod | TraceMethod

interface MethodHead {
  /** Instruments as described in the plant file then. */
  instruments: MethodInstrument[]
  /** The plant file of then, by the checksum under which its text is stored; absent where it was no file. */
  plantFile?: { name: string; sha256: string }
  timeZone: string
  /** Not a real machine. */
  isSimulated: boolean
  plantName: string
  version: string
}

export interface PointMethod extends MethodHead {
  takes: 'points'
  view: PointTrialView
  /** Curve and what goes into it. */
  fit: FitMethod
  further: ({ name: string } & FitMethod)[]
  series: SeriesRule[]
  stages: StageRule[]
  /** Constants of the plant file that checks are held against, by path. */
  references: Record<string, number>
  /** Steadiness limits by figure. */
  steady: Record<string, number>
  /** How the figures follow from the readings. */
  workings: Working[]
  /** Constants and curves that err. */
  doubtful: MethodConstant[]
  theory?: Theory
}

export interface TraceMethod extends MethodHead {
  takes: 'traces'
  view: TraceTrialView
  ready: readonly Condition[]
  begin: BeginRule
  end: Condition | null
  reduction: string
  constants: Readonly<Record<string, number>>
}

export interface MethodInstrument {
  id: string
  name: string
  quantity: string
  unit: string
  accuracy: string
  /** Absent for contacts, which have no accuracy. */
  limits?: ErrorLimits
  /** Range in `unit`. */
  range?: [low: number, high: number]
}

export interface ConstantDoubt {
  /** Name among what uncertainties come from. */
  source: string
  /** Standard uncertainty in SI. */
  standard: number
  isRectangular: boolean
}

export interface FitMethod {
  model: string
  symbols: Record<string, string>
  constants: Record<string, number>
  /** Of the constants those that err, by symbol; a run of an earlier version has none. */
  doubts?: Record<string, ConstantDoubt>
  best: boolean
  inBoth: boolean
}

/** The method of the trial that is asked for, or why it cannot be done at this plant. */
export function methodFor(plan: Plan, { trial: id, typed }: RunRequest): Outcome<RunMethod> {
  const trial = trials.find((one) => one.id === id)
  if (!trial) return refuse(404, `There is no trial "${id.slice(0, 64)}".`)
  const method = methodOf(trial, plan, typed)
  const { view } = method
  const asked = view.takes === 'points' ? view.typed[0]?.figure : undefined
  if (typed !== undefined && asked !== typed)
    return refuse(
      400,
      `"${typed}" cannot be typed in this trial: it is measured here, or nothing depends on it.`,
    )
  if (view.lacking.length > 0) return refuse(409, `Not possible at this plant: ${view.lacking.join('; ')}.`)
  return granted(method)
}

/** @param typed Figure that is typed at each point although an estimate of it is known. */
export function methodOf(trial: Trial, plan: Plan, typed?: string): RunMethod {
  return trial.takes === 'points' ? pointMethod(trial, plan, typed) : traceMethod(trial, plan)
}

function pointMethod(trial: PointTrial, plan: Plan, typed?: string): PointMethod {
  const { plant } = plan
  const view = viewPointTrial(trial, plan, typed)
  const theory = trial.theory?.(plant)
  return {
    takes: 'points',
    view,
    fit: fitMethod(fitOf(trial, plan), plant),
    further: (trial.further ?? []).map((one) => ({ name: one.name, ...fitMethod(one, plant) })),
    series: [...(trial.series?.(plant) ?? [])],
    stages: (trial.stages ?? []).map((stage) => ({ ...stage, share: shareOf(stage, plant) })),
    references: referencesOf(trial, plant),
    steady: { ...trial.steady },
    workings: workingsOf(
      view.figures.map(({ id }) => id),
      plan,
    ),
    doubtful: methodConstants(plan),
    ...(theory ? { theory } : {}),
    ...originOf(plant, plant.instruments),
  }
}

export function traceMethod(trial: TraceTrial, plan: Plan): TraceMethod {
  const { plant } = plan
  return {
    takes: 'traces',
    view: viewTraceTrial(trial, plan),
    ready: trial.ready?.(plant) ?? [],
    begin: trial.begin(plant),
    end: trial.end?.(plant) ?? null,
    reduction: trial.reduction,
    constants: given(trial.constants(plant)),
    ...originOf(plant, recordedBy(trial, plant)),
  }
}

/** Where and with what it is recorded. */
function originOf(plant: Plant, instruments: readonly Instrument[]): MethodHead {
  return {
    instruments: instruments.map(instrumentOf),
    ...(plant.text === undefined ? {} : { plantFile: fileOf(plant.file, plant.text) }),
    timeZone: plant.site.timeZone,
    isSimulated: plant.simulated,
    plantName: plant.name,
    version: VERSION,
  }
}

function instrumentOf(instrument: Instrument): MethodInstrument {
  const { id, name, quantity, unit, range } = instrument
  const limits = errorLimits(instrument)
  return {
    id,
    name,
    quantity,
    unit: unit.code,
    accuracy: accuracyWords(instrument),
    ...(range ? { range: [range[0], range[1]] } : {}),
    ...(limits ? { limits } : {}),
  }
}

function fileOf(path: string, text: string): { name: string; sha256: string } {
  return { name: basename(path), sha256: createHash('sha256').update(text).digest('hex') }
}

function fitMethod(choice: FitChoice, plant: Plant): FitMethod {
  const paths = Object.entries(choice.constants ?? {})
  return {
    model: choice.model,
    symbols: { ...choice.symbols },
    constants: Object.fromEntries(
      paths.map(([symbol, path]) => [symbol, plant.constants.get(path) ?? Number.NaN]),
    ),
    doubts: Object.fromEntries(
      paths.flatMap(([symbol, path]): [string, ConstantDoubt][] => {
        const error = constantError(plant, path)
        if (!error) return []
        const { limits, isRectangular, calibration } = error
        return [[symbol, { source: calibration ?? constantSource(path), standard: limits, isRectangular }]]
      }),
    ),
    best: choice.best ?? false,
    inBoth: choice.inBoth ?? false,
  }
}

/** How well the curve behind a stage is known: what the plant file says, or what is usual. */
function shareOf({ residual }: Stage, { relations: shares }: Plant): number {
  if (residual === null) return 0
  return shares[residual] ?? relations.find(({ id }) => id === residual)?.share ?? 0
}

function referencesOf({ checks }: PointTrial, { constants }: Plant): Record<string, number> {
  const paths = checks.flatMap(({ rule }) => rule?.references ?? [])
  return given(Object.fromEntries(paths.map((path) => [path, constants.get(path)])))
}

/** Those that the plant file gives. */
function given(values: Readonly<Record<string, number | undefined>>): Record<string, number> {
  return Object.fromEntries(
    Object.entries(values).filter((entry): entry is [string, number] => entry[1] !== undefined),
  )
}
