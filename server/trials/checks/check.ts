import type {
  BalanceTable,
  CheckText,
  CheckView,
  Comparison,
  FittedParameter,
  SeriesResult,
  TrialResult,
} from '../../wire/findings.ts'
import type { TrialPoint } from '../../wire/point.ts'
import type { TraceTogether } from '../../wire/trace.ts'
import type { PointTrialView } from '../../wire/trial.ts'

/** What a sound result looks like; without a rule a person looks. */
export interface Check<Input> extends CheckText {
  rule?: Rule<Input>
}

/** Tells whether a check holds, from what a run says. */
export interface Rule<Input> {
  /** Constants of the plant file that it needs. */
  references?: readonly string[]
  judge(input: Input): Judgement
}

export type Judgement = Pick<CheckView, 'state' | 'finding'>
export type PointRule = Rule<PointCheckInput>

/** The kept points and everything that was made of them. */
export interface PointCheckInput {
  view: PointTrialView
  /** Kept ones only. */
  points: readonly TrialPoint[]
  result: TrialResult
  series: readonly SeriesResult[]
  comparison: Comparison | null
  further: readonly { name: string; result: TrialResult }[]
  balance: BalanceTable | null
  /** Constants of the plant file that the check asked for, as they were when the run began. */
  references: Readonly<Record<string, number>>
}

/** What the kept traces say together. */
export type TraceCheckInput = TraceTogether

export function holds(finding: string): Judgement {
  return { state: 'holds', finding }
}

export function fails(finding: string): Judgement {
  return { state: 'fails', finding }
}

/** Not yet known, and what is missing. */
export function unknown(finding: string): Judgement {
  return { state: 'unknown', finding }
}

export function parameterOf(result: TrialResult, symbol: string): FittedParameter | undefined {
  return result.isFitted ? result.parameters.find((one) => one.symbol === symbol) : undefined
}

export function percent(share: number): string {
  return `${number(100 * share)} %`
}

/** Three digits, without an exponent for the sizes that occur. */
export function number(value: number): string {
  return String(Number(value.toPrecision(3)))
}

/** What of the checks goes into the view of a trial. */
export function checkTexts(checks: readonly CheckText[]): CheckText[] {
  return checks.map(({ id, text }) => ({ id, text }))
}

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
