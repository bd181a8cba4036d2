import { nodeOf, type Plan } from '../../derive/plan.ts'
import type { Instrument, Plant } from '../../plant/plant.ts'
import { roleOf } from '../../plant/roles.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import type { TraceChannel } from '../../wire/trace.ts'
import type { TraceTrialView } from '../../wire/trial.ts'
import { checkTexts } from '../checks/check.ts'
import { MOST_READINGS, MOST_TRACES } from '../takeStore.ts'
import type { TraceTrial } from '../trial.ts'
import { membersOf } from './conditions.ts'

/** The trial as it can, or cannot, be done at this plant. */
export function viewTraceTrial(trial: TraceTrial, plan: Plan): TraceTrialView {
  const { plant } = plan
  const { repeats, secondsBefore, longestSeconds, afterRestart, words, typed } = trial
  const needs = trial.needs(plant).map((figure) => ({
    figure,
    name: roleOf(figure)?.name ?? figure,
    isThere: isMeasured(plant, figure),
  }))
  const refusal = trial.refuse?.(plant)
  return {
    id: trial.id,
    name: trial.name,
    takes: 'traces',
    aim: trial.aim,
    main: trial.main(plant),
    channels: recordedBy(trial, plant).map(channelOf),
    repeats,
    secondsBefore,
    longestSeconds,
    begins: words.begins,
    ends: words.ends,
    policy: `Every reading is kept as it came, from ${secondsBefore} s before the trigger, at most ${longestSeconds} s and ${MOST_READINGS / 1000} thousand readings a trace and ${MOST_TRACES} traces a run; then the trace ends and says so.`,
    typedPoint: typed ? { figure: typed.figure.id, words: typed.words } : null,
    afterRestart,
    figures: figuresOf(trial, plan),
    needs: typed ? [...needs, { figure: typed.figure.id, name: typed.figure.name, isThere: true }] : needs,
    lacking: [
      ...needs.filter((one) => !one.isThere).map((one) => `${one.name} is not measured here`),
      ...(refusal === undefined ? [] : [refusal]),
    ],
    cautions: [...trial.cautions],
    method: [...trial.method],
    checks: checkTexts(trial.checks),
  }
}

function isMeasured({ instruments }: Plant, quantity: string): boolean {
  const measured = instruments.map((one) => one.quantity)
  return membersOf(quantity, measured).length > 0
}

/** Instruments whose readings a trace keeps, the main one first. */
export function recordedBy(trial: TraceTrial, plant: Plant): Instrument[] {
  const wanted = [trial.main(plant), ...trial.needs(plant), ...trial.record]
  const order = (quantity: string) =>
    wanted.findIndex((one) => one === quantity || quantity.split('.')[0] === one)
  return plant.instruments
    .filter((one) => order(one.quantity) >= 0)
    .sort((a, b) => order(a.quantity) - order(b.quantity))
}

function channelOf({ id, quantity, name, siUnit, role, unit, periodic, periodMs }: Instrument): TraceChannel {
  return {
    instrument: id,
    quantity,
    name,
    unit: siUnit.code,
    viewUnit: role?.view ?? unit.code,
    periodMs: periodic ? periodMs : null,
  }
}

/** Main figure, what conditions are about, and what is typed. */
function figuresOf(trial: TraceTrial, plan: Plan): FigureDescription[] {
  const begin = trial.begin(plan.plant)
  const conditions = [...(trial.ready?.(plan.plant) ?? []), ...(begin.kind === 'conditions' ? begin.all : [])]
  const wanted = [trial.main(plan.plant), ...conditions.map((one) => one.figure)]
  const ids = new Set(wanted.flatMap((id) => membersOf(id, plan.indexOf.keys())))
  const known = [...ids].map((id) => nodeOf(plan, id)!.description)
  return trial.typed ? [...known, trial.typed.figure] : known
}
