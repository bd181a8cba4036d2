import { accuracyWords } from '../../derive/explain.ts'
import { nodeOf, type Plan } from '../../derive/plan.ts'
import type { LivePlant } from '../../livePlant.ts'
import type { Instrument, Plant } from '../../plant/plant.ts'
import { roleOf } from '../../plant/roles.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import type { TraceTrialView } from '../../wire/trace.ts'
import type { TrialView } from '../../wire/trial.ts'
import { originOf, type RunMethod } from '../runMethod.ts'
import { membersOf } from './conditions.ts'
import type { ChannelLimits, TracePlan } from './tracePlan.ts'
import { MOST_READINGS, MOST_TRACES } from './traceRun.ts'
import type { TraceTrial } from './traceTrial.ts'

/** The trial as it can, or cannot, be done at this plant. */
export function viewTraceTrial(trial: TraceTrial, { plan }: Pick<LivePlant, 'plan'>): TrialView {
  const { plant } = plan
  const main = trial.main(plant)
  const needed = trial.needs(plant)
  const needs = needed.map((id) => ({
    figure: id,
    name: roleOf(id)?.name ?? id,
    isThere: isMeasured(plant, id),
  }))
  const refusal = trial.refuse?.(plant)
  return {
    id: trial.id,
    name: trial.name,
    aim: trial.aim,
    hold: [],
    vary: { figure: main, by: '', suggested: [], isStepped: false },
    abscissa: main,
    ordinate: trial.typed?.id ?? main,
    unitAbscissa: null,
    unitOrdinate: null,
    figures: figuresOf(trial, plan),
    needs: [
      ...needs,
      ...(trial.typed ? [{ figure: trial.typed.id, name: trial.typed.name, isThere: true }] : []),
    ],
    lacking: [
      ...needs.filter((one) => !one.isThere).map((one) => `${one.name} is not measured here`),
      ...(refusal === undefined ? [] : [refusal]),
    ],
    cautions: [...trial.cautions],
    method: [...trial.method],
    checks: [...trial.checks],
    fit: '',
    trace: traceViewOf(trial, plant),
  }
}

function isMeasured({ instruments }: Plant, quantity: string): boolean {
  return (
    membersOf(
      quantity,
      instruments.map((one) => one.quantity),
    ).length > 0
  )
}

function recordedBy(trial: TraceTrial, plant: Plant): Instrument[] {
  const wanted = [trial.main(plant), ...trial.needs(plant), ...trial.record(plant)]
  const order = (quantity: string) =>
    wanted.findIndex((one) => one === quantity || quantity.split('.')[0] === one)
  return plant.instruments
    .filter((one) => order(one.quantity) >= 0)
    .sort((a, b) => order(a.quantity) - order(b.quantity))
}

function traceViewOf(trial: TraceTrial, plant: Plant): TraceTrialView {
  const { secondsBefore, longestSeconds, repeats, afterRestart, words } = trial
  return {
    main: trial.main(plant),
    channels: recordedBy(trial, plant).map((one) => ({
      instrument: one.id,
      quantity: one.quantity,
      name: one.name,
      unit: one.siUnit.code,
      viewUnit: one.role?.view ?? one.unit.code,
      periodMs: one.periodic ? one.periodMs : null,
    })),
    ...{ repeats, secondsBefore, longestSeconds, afterRestart },
    ...{ begins: words.begins, ends: words.ends, typed: words.typed ?? '' },
    policy: `Every reading is kept as it came, from ${secondsBefore} s before the trigger, at most ${longestSeconds} s and ${MOST_READINGS / 1000} thousand readings a trace and ${MOST_TRACES} traces a run; then the trace ends and says so.`,
  }
}

/** Main figure, what is typed, and what conditions are about. */
function figuresOf(trial: TraceTrial, plan: Plan): FigureDescription[] {
  const begin = trial.begin.kind === 'conditions' ? trial.begin.all(plan.plant) : []
  const wanted = [trial.main(plan.plant), ...[...trial.ready(plan.plant), ...begin].map((one) => one.figure)]
  const ids = new Set(wanted.flatMap((id) => membersOf(id, plan.indexOf.keys())))
  const known = [...ids].map((id) => nodeOf(plan, id)!.description)
  return trial.typed ? [...known, trial.typed] : known
}

/** Everything about the trial that has to be known to go on after a restart and to understand the run later. */
export function traceMethodOf(trial: TraceTrial, live: LivePlant): RunMethod {
  const { plant } = live
  const view = viewTraceTrial(trial, live)
  return {
    view,
    fit: { model: '', symbols: {}, constants: {}, best: false },
    steady: {},
    instruments: recordedBy(trial, plant).map((one) => ({
      id: one.id,
      name: one.name,
      quantity: one.quantity,
      unit: one.unit.code,
      accuracy: accuracyWords(one),
    })),
    ...originOf(plant),
    trace: planOf(trial, plant, view.trace!),
  }
}

function planOf(trial: TraceTrial, plant: Plant, view: TraceTrialView): TracePlan {
  const { begin } = trial
  return {
    view,
    ready: trial.ready(plant),
    begin:
      begin.kind === 'conditions'
        ? { kind: 'conditions', all: begin.all(plant) }
        : begin.kind === 'change'
          ? { kind: 'change', of: begin.of(plant) }
          : begin,
    end: trial.end?.(plant) ?? null,
    afterMs: (trial.secondsAfter ?? trial.longestSeconds) * 1000,
    reduction: trial.reduction,
    constants: trial.constants(plant),
    limits: Object.fromEntries(recordedBy(trial, plant).map((one) => [one.quantity, limitsOf(one)])),
  }
}

/** The error model of derive/instrumentUncertainty.ts, in SI. */
function limitsOf({ accuracy, range, unit }: Instrument): ChannelLimits {
  const width = range ? range[1] - range[0] : 0
  return {
    reading: accuracy?.reading ?? 0,
    fixed: ((accuracy?.span ?? 0) * width + (accuracy?.absolute ?? 0)) * unit.factor,
    standard: accuracy?.distribution === 'normal' ? 1 / 1.959964 : 1 / Math.sqrt(3),
    resolution: (accuracy?.resolution ?? 0) * unit.factor,
  }
}
