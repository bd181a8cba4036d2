import { describe, expect, it } from 'vitest'
import type { PointCheckInput } from '../../../server/trials/checks/check.ts'
import {
  balanceCloses,
  constantAgrees,
  constantBelow,
  constantWithin,
  firstAbove,
  furtherHas,
  lineThroughZero,
  runawayRatio,
} from '../../../server/trials/checks/curveChecks.ts'
import {
  belowOne,
  bestHas,
  falls,
  fallsTowardsLess,
  repeatsAgree,
  rises,
  settingsAgree,
} from '../../../server/trials/checks/pointChecks.ts'
import type { BalanceRow, BestPoint, FittedCurve } from '../../../server/wire/findings.ts'
import type { PointFigure, TrialPoint } from '../../../server/wire/point.ts'

/** Typical bars: scatter of 0.002, half-width of 0.01. */
const figure = (id: string, mean: number, more: Partial<PointFigure> = {}): PointFigure => ({
  id,
  mean,
  deviation: 0.01,
  effectiveCount: 20,
  typeA: 0.002,
  typeB: 0.005,
  u95: 0.01,
  contributions: {},
  ...more,
})
const point = (
  number: number,
  figures: Record<string, number>,
  more: Partial<TrialPoint> = {},
): TrialPoint => ({
  number,
  at: 0,
  from: 0,
  samples: 40,
  origin: 'automatic',
  by: 'me',
  setting: 'jets 1',
  repeatOf: null,
  remarks: [],
  verdict: 'kept',
  reason: '',
  figures: Object.entries(figures).map(([id, mean]) => figure(id, mean)),
  ...more,
})
const curve = (more: Partial<FittedCurve> = {}): FittedCurve => ({
  isFitted: true,
  formula: '',
  parameters: [],
  points: 5,
  residualDeviation: 0,
  degreesOfFreedom: 3,
  curve: { x: [], y: [], low: [], high: [] },
  best: null,
  doubtful: [],
  residuals: [],
  ...more,
})
const constant = (symbol: string, value: number, half: number) =>
  curve({
    parameters: [
      {
        symbol,
        name: '',
        unit: 'W',
        viewUnit: 'W',
        value,
        typeA: 0,
        typeB: 0,
        low: value - half,
        high: value + half,
      },
    ],
  })
const input = (more: Partial<PointCheckInput>): PointCheckInput => ({
  view: { abscissa: 'x', ordinate: 'y' } as PointCheckInput['view'],
  points: [],
  result: { isFitted: false, lacking: '' },
  series: [],
  comparison: null,
  further: [],
  balance: null,
  references: {},
  ...more,
})
const along = (values: number[]) => values.map((y, i) => point(i + 1, { x: i + 1, y }))

const row = (residual: number): BalanceRow => ({
  stage: 'g',
  name: 'Generator',
  in: { value: 100, u95: 1 },
  out: { value: 90, u95: 1 },
  share: 0.1,
  loss: { value: 10, u95: 1 },
  expected: 10 - residual,
  residual: { value: residual, u95: 1 },
  state: Math.abs(residual) <= 1 ? 'closes' : 'open',
})
const table = (...residuals: number[]): Partial<PointCheckInput> => ({
  balance: {
    missing: [],
    points: residuals.map((one, i) => ({ point: i + 1, setting: '', rows: [row(one)] })),
  },
})
const gains = (...gain: number[]): Partial<PointCheckInput> => ({
  comparison: {
    isPossible: true,
    first: 'a',
    second: 'b',
    rows: gain.map((one, x) => ({ x, first: one, second: 0, gain: one, low: one - 0.1, high: one + 0.1 })),
  },
})

describe('a computed check', () => {
  // the numbers of every row are made so that the answer can be seen
  it.each([
    ['a fall at every step', falls(), { points: along([3, 2, 1]) }, 'holds'],
    ['a rise of 0.5 in between', falls(), { points: along([3, 2, 2.5, 1]) }, 'fails'],
    [
      'a rise of 0.004, less than 1.96·√2·0.002 = 0.0055',
      falls(),
      { points: along([3, 2, 2.004, 1]) },
      'holds',
    ],
    ['two points only', falls(), { points: along([3, 2]) }, 'unknown'],
    ['a rise at every step', rises, { points: along([1, 2, 3]) }, 'holds'],
    ['a fall of the last', rises, { points: along([1, 2, 1.5]) }, 'fails'],
    ['an efficiency of 0.7', belowOne, { points: along([0.6, 0.7]) }, 'holds'],
    ['an efficiency of 1.02', belowOne, { points: along([0.6, 1.02]) }, 'fails'],
    ['an efficiency of 0.995 ± 0.01', belowOne, { points: along([0.6, 0.995]) }, 'unknown'],
    ['a first point at 0.62 of 0.70', fallsTowardsLess, { points: along([0.62, 0.68, 0.7]) }, 'holds'],
    ['a first point that is the top', fallsTowardsLess, { points: along([0.7, 0.68, 0.62]) }, 'fails'],
    [
      'a constant in its range',
      constantWithin({ symbol: 'C', low: 0.9, high: 1 }),
      { result: constant('C', 0.94, 0.01) },
      'holds',
    ],
    [
      'a constant outside',
      constantWithin({ symbol: 'C', low: 0.9, high: 1 }),
      { result: constant('C', 0.8, 0.01) },
      'fails',
    ],
    [
      'a constant whose interval crosses the end',
      constantWithin({ symbol: 'C', low: 0.9, high: 1 }),
      { result: constant('C', 0.89, 0.02) },
      'unknown',
    ],
    [
      'a constant like the plant file',
      constantAgrees({ symbol: 'k', reference: 'r' }),
      { result: constant('k', 1, 0.1), references: { r: 1.05 } },
      'holds',
    ],
    [
      'a constant unlike the plant file',
      constantAgrees({ symbol: 'k', reference: 'r' }),
      { result: constant('k', 1, 0.1), references: { r: 1.2 } },
      'fails',
    ],
    [
      'a loss of 9 W of 600 W',
      constantBelow({ symbol: 'P', reference: 'r', share: 0.05 }),
      { result: constant('P', 9, 1), references: { r: 600 } },
      'holds',
    ],
    [
      'a loss of 60 W of 600 W',
      constantBelow({ symbol: 'P', reference: 'r', share: 0.05 }),
      { result: constant('P', 60, 1), references: { r: 600 } },
      'fails',
    ],
    [
      'an exponent of 1.98 ± 0.05',
      furtherHas({ symbol: 'm', value: 2 }),
      { further: [{ name: '', result: constant('m', 1.98, 0.05) }] },
      'holds',
    ],
    [
      'an exponent of 1.75 ± 0.05',
      furtherHas({ symbol: 'm', value: 2 }),
      { further: [{ name: '', result: constant('m', 1.75, 0.05) }] },
      'fails',
    ],
    // 2.5^(2/3) = 1.842 for m = 1.5; 2 for m = 1, and 3^(1/2) = 1.73 for m = 2
    [
      'a torque law with m = 1.5',
      runawayRatio({ low: 1.7, high: 2 }),
      { result: constant('m', 1.5, 0.1) },
      'holds',
    ],
    [
      'a torque law with m = 0.5 (ratio 2.25)',
      runawayRatio({ low: 1.7, high: 2 }),
      { result: constant('m', 0.5, 0.1) },
      'fails',
    ],
    ['a line through zero', lineThroughZero, { points: along([1.001, 2, 2.999, 4.001]) }, 'holds'],
    ['a line that begins at 0.5', lineThroughZero, { points: along([1.5, 2.501, 3.5, 4.499]) }, 'fails'],
    ['gains of 2 and 3 ± 0.1', firstAbove, gains(2, 3), 'holds'],
    ['a gain of −1 ± 0.1', firstAbove, gains(2, -1), 'fails'],
    ['a gain of 0.05 ± 0.1', firstAbove, gains(2, 0.05), 'unknown'],
    ['residuals within their bars', balanceCloses, table(0.5, -0.3), 'holds'],
    ['two residuals of three outside', balanceCloses, table(5, -4, 0), 'fails'],
    ['one residual outside', balanceCloses, table(1.5, 0, 0), 'unknown'],
  ] as const)('says of %s what is true', (...row) => {
    const [, check, given, expected] = row
    const { state, finding } = check.judge(input(given as Partial<PointCheckInput>))
    expect(state).toBe(expected)
    expect(finding).toMatch(/\.$/)
  })

  it('holds repeats against their bars: 0.010 apart of 0.014 allowed, and 0.05 apart', () => {
    const pair = (second: number) => [
      point(1, { x: 1, y: 1 }),
      point(2, { x: 1, y: second }, { repeatOf: 1 }),
    ]
    expect(repeatsAgree.judge(input({ points: pair(1.01) }))).toEqual({
      state: 'holds',
      finding: 'Repeats agree within 1 % at the worst (points 1 and 2); their bars allow 1.41 %.',
    })
    expect(repeatsAgree.judge(input({ points: pair(1.05) })).state).toBe('fails')
    expect(repeatsAgree.judge(input({ points: along([1, 2]) })).state).toBe('unknown')
  })

  it('takes off along the curve what lies between two repeats', () => {
    const line = curve({ curve: { x: [0, 10], y: [0, 10], low: [], high: [] } })
    const points = [point(1, { x: 1, y: 1 }), point(2, { x: 1.1, y: 1.1 }, { repeatOf: 1 })]
    expect(repeatsAgree.judge(input({ points, result: line })).state).toBe('holds')
  })

  it('goes by the curve of the series that the repeat belongs to', () => {
    const line = curve({ curve: { x: [0, 10], y: [0, 10], low: [], high: [] } })
    const flat = curve({ curve: { x: [0, 10], y: [1, 1], low: [], high: [] } })
    const points = [point(1, { x: 1, y: 1 }), point(2, { x: 1.1, y: 1.1 }, { repeatOf: 1 })]
    const series = [{ id: 's', name: 's', points: [1, 2], result: line }]
    expect(repeatsAgree.judge(input({ points, result: flat, series })).state).toBe('holds')
    expect(repeatsAgree.judge(input({ points, result: flat })).state).toBe('fails')
  })

  it('holds jets against each other at equal head, 1 % apart and 4 % apart', () => {
    const pair = (second: number) => [
      point(1, { x: 4, y: 2, openJets: 1 }),
      point(2, { x: 9, y: 3 * second, openJets: 1 }, { setting: 'jets 2' }),
    ]
    expect(settingsAgree(0.02).judge(input({ points: pair(1.01) })).state).toBe('holds')
    expect(settingsAgree(0.02).judge(input({ points: pair(1.04) })).state).toBe('fails')
  })

  it('reads the speed ratio at the best point: 0.46 at 150 rad/s where it is 0.368 at 120', () => {
    const best: BestPoint = {
      x: 150,
      xLow: 145,
      xHigh: 155,
      y: 0.7,
      yLow: 0.69,
      yHigh: 0.71,
      isAtEnd: false,
      isOpen: false,
      isWide: false,
      parts: [[145, 155]],
      add: [],
    }
    const points = [point(1, { x: 120, y: 0.6, ratio: 0.368 })]
    const check = bestHas({ figure: 'ratio', low: 0.42, high: 0.48 })
    expect(check.judge(input({ points, result: curve({ best }) })).state).toBe('holds')
    const fast = { ...best, x: 200, xLow: 195, xHigh: 205 }
    expect(check.judge(input({ points, result: curve({ best: fast }) })).state).toBe('fails')
    expect(check.judge(input({ points, result: curve({ best: { ...best, isAtEnd: true } }) })).state).toBe(
      'unknown',
    )
  })
})
