import type { LivePlant } from '../livePlant.ts'
import { granted, type Outcome, refuse } from '../outcome.ts'
import type { RunRequest } from '../wire/trial.ts'
import { trials } from './definitions/index.ts'
import { methodOf, type RunMethod } from './runMethod.ts'
import { traceTrials } from './trace/definitions/index.ts'
import { traceMethodOf } from './trace/placeTrace.ts'

/** The method of the trial that is asked for, or why it cannot be done at this plant. */
export function methodFor(live: LivePlant, { trial: id, typed }: RunRequest): Outcome<RunMethod> {
  const trial = trials.find((one) => one.id === id)
  const traceTrial = traceTrials.find((one) => one.id === id)
  const method = trial ? methodOf(trial, live, typed) : traceTrial && traceMethodOf(traceTrial, live)
  if (!method) return refuse(404, `There is no trial "${id.slice(0, 64)}".`)
  const { view } = method
  if (typed !== undefined && view.typed?.[0]?.figure !== typed)
    return refuse(
      400,
      `"${typed}" cannot be typed in this trial: it is measured here, or nothing depends on it.`,
    )
  if (view.lacking.length > 0) return refuse(409, `Not possible at this plant: ${view.lacking.join('; ')}.`)
  return granted(method)
}
