import type { Plan } from '../derive/plan.ts'
import { quantities } from '../derive/quantities/index.ts'
import { roleOf } from '../plant/roles.ts'
import type { FigureDescription } from '../wire/figure.ts'
import type { HoldView, TrialView } from '../wire/trial.ts'
import { models } from './fit/models/index.ts'
import type { FitChoice, Trial } from './trial.ts'

/** The trial as it can, or cannot, be done at this plant. */
export function viewTrial(trial: Trial, plan: Plan): TrialView {
  const { plant, indexOf } = plan
  const hold = trial.hold.flatMap((one) => holdAt(one, plan))
  const symbols = Object.values(fitOf(trial, plan).symbols ?? {})
  const needed = [...new Set([trial.abscissa, trial.ordinate, ...hold.map((one) => one.figure), ...symbols])]
  const needs = needed.map((figure) => ({ figure, name: nameOf(figure), isThere: indexOf.has(figure) }))
  const refusal = trial.refuse?.(plant)
  const { reference, shares } = trial.suggest
  const full = plant.constants.get(reference)
  const hasUnit = trial.unit && indexOf.has(trial.unit.abscissa) && indexOf.has(trial.unit.ordinate)
  return {
    id: trial.id,
    name: trial.name,
    aim: trial.aim,
    hold,
    vary: {
      figure: trial.abscissa,
      by: trial.by(plant),
      suggested: full === undefined ? [] : shares(plant).map((share) => share * full),
      isStepped: trial.suggest.isStepped?.(plant) ?? false,
    },
    abscissa: trial.abscissa,
    ordinate: trial.ordinate,
    unitAbscissa: hasUnit ? trial.unit!.abscissa : null,
    unitOrdinate: hasUnit ? trial.unit!.ordinate : null,
    figures: figuresOf(trial, plan),
    needs,
    lacking:
      refusal === undefined
        ? needs.filter((need) => !need.isThere).map((need) => lackSentence(need, plan))
        : [refusal],
    cautions: [...trial.cautions],
    method: [...trial.method],
    checks: trial.checks.map((check) => (typeof check === 'string' ? check : check.text)),
    fit: models.get(fitOf(trial, plan).model)!.formula,
  }
}

/** The curve for this plant. */
export function fitOf(trial: Trial, { plant }: Plan): FitChoice {
  const choice = trial.fits.find((one) => one.applies?.(plant) ?? true)
  if (!choice) throw new RangeError(`trial ${trial.id} has no curve for plant ${plant.id}`)
  return choice
}

function holdAt({ share = 1, ...hold }: Trial['hold'][number], { plant }: Plan): HoldView[] {
  const full =
    hold.fixed ?? hold.target.map((path) => plant.constants.get(path)).find((one) => one !== undefined)
  const { figure, tolerance, low, high } = hold
  return full === undefined ? [] : [{ figure, target: share * full, tolerance: tolerance * full, low, high }]
}

/** Every figure that a point stores, abscissa and ordinate first. */
function figuresOf(trial: Trial, plan: Plan): FigureDescription[] {
  const wanted = [
    trial.abscissa,
    trial.ordinate,
    ...trial.hold.map((one) => one.figure),
    ...Object.values(fitOf(trial, plan).symbols ?? {}),
    ...(trial.unit ? [trial.unit.abscissa, trial.unit.ordinate] : []),
    ...trial.record,
    ...(trial.stages ?? []).flatMap((stage) => [stage.in, stage.out, stage.loss, stage.gap]),
    ...(trial.series?.(plan.plant) ?? []).flatMap(({ where }) => where.map((one) => one.figure)),
  ]
  return [...new Set(wanted)].flatMap((id) => {
    const index = id === null ? undefined : plan.indexOf.get(id)
    return index === undefined ? [] : [plan.nodes[index]!.description]
  })
}

function lackSentence({ figure, name }: { figure: string; name: string }, { missing }: Plan): string {
  const needs = missing.find((one) => one.id === figure)?.needs
  return `${name} is not known here${needs === undefined ? '' : `: it ${needs}`}`
}

function nameOf(figure: string): string {
  return quantities.find((one) => one.id === figure)?.name ?? roleOf(figure)?.name ?? figure
}
