import type { CheckView } from '../../wire/findings.ts'
import { trials } from '../definitions/index.ts'
import type { Check, CheckInput } from './check.ts'

/** The checks of a run, as it was begun, with what its points say to each that has a rule. */
export function judgeChecks(trial: string, input: CheckInput): CheckView[] {
  const rules = trials.find((one) => one.id === trial)?.checks ?? []
  return input.view.checks.map((text) => {
    // A run from before a sentence was changed keeps its own sentence, and nobody judges it.
    const rule = rules.find((one): one is Check => typeof one !== 'string' && one.text === text)
    return rule ? { text, ...rule.judge(input) } : { text, state: 'byEye', finding: '' }
  })
}
