import { nodeOf, type Plan } from '../derive/plan.ts'
import { quantities } from '../derive/quantities/index.ts'
import { roleOf } from '../plant/roles.ts'
import type { FigureDescription } from '../wire/figure.ts'
import type { HoldView } from '../wire/point.ts'
import type { PointTrialView, TrialView } from '../wire/trial.ts'
import { checkTexts } from './checks/check.ts'
import { formulaOf } from './fit/models/index.ts'
import { viewTraceTrial } from './trace/traceTrialView.ts'
import type { FitChoice, Hold, PointTrial, Trial } from './trial.ts'
import { meansFor } from './typed/simpleMeans.ts'
import { measuredBehind, typeable, typedPlan } from './typed/typedPlan.ts'
import { closureOf } from './workings.ts'

/** The trial as it can, or cannot, be done at this plant. */
export function viewTrial(trial: Trial, plan: Plan): TrialView {
  return trial.takes === 'points' ? viewPointTrial(trial, plan) : viewTraceTrial(trial, plan)
}

/** @param wish Figure that is typed at each point although an estimate of it is known. */
export function viewPointTrial(trial: PointTrial, plan: Plan, wish?: string): PointTrialView {
  const { plant, indexOf } = plan
  const hold = trial.hold.flatMap((one) => holdAt(one, plan))
  const symbols = Object.values(fitOf(trial, plan).symbols ?? {})
  const needed = [...new Set([trial.abscissa, trial.ordinate, ...hold.map((one) => one.figure), ...symbols])]
  const needs = needed.map((figure) => ({ figure, name: nameOf(figure), isThere: indexOf.has(figure) }))
  const refusal = trial.refuse?.(plant)
  const typing = refusal === undefined ? typedPlan(plan, needed, wish) : undefined
  const whole = typing?.plan ?? plan
  const hasUnit =
    trial.unit && whole.indexOf.has(trial.unit.abscissa) && whole.indexOf.has(trial.unit.ordinate)
  return {
    id: trial.id,
    name: trial.name,
    takes: 'points',
    aim: trial.aim,
    hold,
    vary: varyAt(trial, plan),
    abscissa: trial.abscissa,
    ordinate: trial.ordinate,
    unitAbscissa: hasUnit ? trial.unit!.abscissa : null,
    unitOrdinate: hasUnit ? trial.unit!.ordinate : null,
    figures: figuresOf(
      trial,
      whole,
      typing ? [typing.figure, ...measuredBehind(whole, wantedOf(trial, plan))] : [],
    ),
    typeable:
      refusal === undefined ? typeable(plan, needed).map((figure) => ({ figure, name: nameOf(figure) })) : [],
    typed: typing
      ? [{ figure: typing.figure, name: nameOf(typing.figure), means: meansFor(typing.figure) }]
      : [],
    needs,
    lacking:
      refusal === undefined
        ? typing
          ? []
          : needs.filter((need) => !need.isThere).map((need) => lackSentence(need, plan))
        : [refusal],
    cautions: [...trial.cautions],
    method: [...trial.method],
    checks: checkTexts(trial.checks),
    fit: formulaOf(fitOf(trial, plan).model),
  }
}

function varyAt({ abscissa, by, suggest }: PointTrial, { plant }: Plan): PointTrialView['vary'] {
  const full = plant.constants.get(suggest.reference)
  return {
    figure: abscissa,
    by: by(plant),
    suggested: full === undefined ? [] : suggest.shares(plant).map((share) => share * full),
    isStepped: suggest.isStepped?.(plant) ?? false,
  }
}

/** The curve for this plant. */
export function fitOf(trial: PointTrial, { plant }: Plan): FitChoice {
  const choice = trial.fits.find((one) => one.applies?.(plant) ?? true)
  if (!choice) throw new RangeError(`trial ${trial.id} has no curve for plant ${plant.id}`)
  return choice
}

function holdAt({ share = 1, ...hold }: Hold, { plant }: Plan): HoldView[] {
  const full =
    hold.fixed ?? hold.target.map((path) => plant.constants.get(path)).find((one) => one !== undefined)
  const { figure, tolerance, low, high } = hold
  return full === undefined ? [] : [{ figure, target: share * full, tolerance: tolerance * full, low, high }]
}

/** Every figure that a point stores: abscissa and ordinate first, then what was asked for, then what all this follows from. */
function figuresOf(trial: PointTrial, plan: Plan, besides: readonly string[]): FigureDescription[] {
  const wanted = [...wantedOf(trial, plan), ...besides]
  return [...new Set([...wanted, ...closureOf(wanted, plan)])].flatMap((id) => {
    const node = nodeOf(plan, id)
    return node ? [node.description] : []
  })
}

function wantedOf(trial: PointTrial, plan: Plan): string[] {
  const wanted = [
    trial.abscissa,
    trial.ordinate,
    ...trial.hold.map((one) => one.figure),
    ...Object.values(fitOf(trial, plan).symbols ?? {}),
    ...(trial.unit ? [trial.unit.abscissa, trial.unit.ordinate] : []),
    ...trial.record,
    ...(trial.stages ?? []).flatMap((stage) => [stage.in, stage.out, stage.loss, stage.residual]),
    ...(trial.series?.(plan.plant) ?? []).flatMap(({ where }) => where.map((one) => one.figure)),
  ]
  return wanted.filter((id) => id !== null)
}

function lackSentence({ figure, name }: { figure: string; name: string }, { missing }: Plan): string {
  const needs = missing.find((one) => one.id === figure)?.needs
  return `${name} is not known here${needs === undefined ? '' : `: it ${needs}`}`
}

function nameOf(figure: string): string {
  return quantities.find((one) => one.id === figure)?.name ?? roleOf(figure)?.name ?? figure
}
