import type { BalanceTable, CheckView, Comparison } from '../../wire/findings.ts'
import type {
  FittedParameter,
  PointFigure,
  SeriesResult,
  TrialPoint,
  TrialResult,
  TrialView,
} from '../../wire/trial.ts'

/** What a check is given: the kept points and everything that was made of them. */
export interface CheckInput {
  view: TrialView
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

export type Judgement = Pick<CheckView, 'state' | 'finding'>

/** What a sound result looks like, with a rule that can tell whether it does. */
export interface Check {
  text: string
  /** Constants of the plant file that it needs. */
  references?: readonly string[]
  judge(input: CheckInput): Judgement
}

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

export function figureOf(point: TrialPoint, id: string): PointFigure | undefined {
  return point.figures.find((figure) => figure.id === id)
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
