import type { CheckText, CheckView } from '../../wire/findings.ts'
import type { Check } from './check.ts'

/**
 * The checks of a run with what it says to each.
 *
 * @param texts As they were when the run began.
 * @param checks Those of the trial now: the rule is found by the id.
 */
export function judgeChecks<Input>(
  texts: readonly CheckText[],
  checks: readonly Check<Input>[],
  input: Input,
): CheckView[] {
  return texts.map(({ id, text }) => {
    const rule = checks.find((one) => one.id === id)?.rule
    return rule ? { id, text, ...rule.judge(input) } : { id, text, state: 'byEye', finding: '' }
  })
}
