import type { Plan } from '../derive/plan.ts'
import { granted, type Outcome, refuse } from '../outcome.ts'
import type { RunRequest } from '../wire/trial.ts'
import { trials } from './definitions/index.ts'
import { methodOf, type RunMethod } from './runMethod.ts'

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
