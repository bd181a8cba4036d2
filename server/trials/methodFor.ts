import type { LivePlant } from '../livePlant.ts'
import type { RunRequest } from '../wire/trial.ts'
import { trials } from './definitions/index.ts'
import type { Done } from './done.ts'
import { methodOf, type RunMethod } from './runMethod.ts'
import { traceTrials } from './trace/definitions/index.ts'
import { traceMethodOf } from './trace/placeTrace.ts'

/** The method of the trial that is asked for, or why it cannot be done at this plant. */
export function methodFor(live: LivePlant, { trial: id, typed }: RunRequest): Done<RunMethod> {
  const trial = trials.find((one) => one.id === id)
  const traceTrial = traceTrials.find((one) => one.id === id)
  const method = trial ? methodOf(trial, live, typed) : traceTrial && traceMethodOf(traceTrial, live)
  if (!method) return { ok: false, status: 404, error: `There is no trial "${id.slice(0, 64)}".` }
  const { view } = method
  if (typed !== undefined && view.typed?.[0]?.figure !== typed)
    return {
      ok: false,
      status: 400,
      error: `"${typed}" cannot be typed in this trial: it is measured here, or nothing depends on it.`,
    }
  if (view.lacking.length > 0)
    return { ok: false, status: 409, error: `Not possible at this plant: ${view.lacking.join('; ')}.` }
  return { ok: true, value: method }
}
