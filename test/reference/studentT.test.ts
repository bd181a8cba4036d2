import { describe, expect, it } from 'vitest'
import { normalQuantile } from '../../server/statistics/normal.ts'
import { incompleteBeta, logGamma, studentQuantile, studentTail } from '../../server/statistics/studentT.ts'
import { checkEach } from './check.ts'

const SCIPY = 'scipy, computed for the project'

/** ν, 95 %. */
const T95: [number, number][] = [
  [1, 12.7062],
  [2, 4.3027],
  [3, 3.1824],
  [4, 2.7764],
  [5, 2.5706],
  [6, 2.4469],
  [7, 2.3646],
  [8, 2.306],
  [9, 2.2622],
  [10, 2.2281],
  [12, 2.1788],
  [15, 2.1314],
  [16, 2.1199],
  [18, 2.1009],
  [20, 2.086],
  [25, 2.0595],
  [30, 2.0423],
  [50, 2.0086],
  [100, 1.984],
]
const T9545: [number, number][] = [
  [1, 13.9678],
  [2, 4.5266],
  [5, 2.6487],
  [10, 2.2837],
  [16, 2.1689],
  [20, 2.133],
  [50, 2.0513],
]
const T99: [number, number][] = [
  [1, 63.6567],
  [2, 9.9248],
  [5, 4.0321],
  [10, 3.1693],
  [16, 2.9208],
  [20, 2.8453],
  [50, 2.6778],
]
/** ν not whole; t for 50, 95, 95.45 and 99 %. */
const BROKEN: [number, number, number, number, number][] = [
  [1.5, 0.8725946625415716, 6.016663104427929, 6.4182150024952405, 17.820310514462804],
  [2.3, 0.7957852889129071, 3.807163208232131, 3.98505784827502, 8.003745266871091],
  [3.7, 0.7464851534824539, 2.8675207071911895, 2.9672042151218614, 4.8692522532278275],
  [16.73, 0.6894368693965625, 2.112412333116553, 2.161011693386911, 2.904024336873953],
  [25.64, 0.6841787699077297, 2.056935002149026, 2.102339096731744, 2.781770229872111],
  [100.5, 0.6769387584774175, 1.9838506553357993, 2.0251841917291564, 2.625636965379534],
  [1e4, 0.6745142844835927, 1.960201239890626, 2.0002524753218824, 2.5763210466685282],
]

describe("Student's t", () => {
  const table = (p: number, rows: [number, number][]) =>
    rows.map(([nu, want]) => ({
      what: `two-sided ${p} quantile for ν ${nu}`,
      source: `JCGM 100 table G.2 / ${SCIPY}`,
      got: () => studentQuantile(p, nu),
      want,
      plusMinus: 5.01e-5,
    }))
  checkEach([...table(0.95, T95), ...table(0.9545, T9545), ...table(0.99, T99)])
  checkEach(
    BROKEN.flatMap(([nu, ...wants]) =>
      wants.map((want, i) => ({
        what: `two-sided ${[0.5, 0.95, 0.9545, 0.99][i]} quantile for ν ${nu}`,
        source: SCIPY,
        got: () => studentQuantile([0.5, 0.95, 0.9545, 0.99][i]!, nu),
        want,
        within: 1e-9,
      })),
    ),
  )
  checkEach([
    {
      what: 'two-sided 0.95 quantile for endless ν',
      source: SCIPY,
      got: () => studentQuantile(0.95, Infinity),
      want: 1.959963984540054,
      within: 1e-12,
    },
    {
      what: 'two-sided 0.99 quantile for ν 1 000 000 against 10 000',
      source: `${SCIPY}, limit`,
      got: () => studentQuantile(0.99, 1e6),
      want: 2.5763210466685282,
      within: 3e-4,
    },
    {
      what: 'tail beyond 2.262157 for ν 9',
      source: SCIPY,
      got: () => studentTail(2.262157162798205, 9),
      want: 0.05,
      within: 1e-10,
    },
    {
      what: 'tail beyond 1 for ν 1 (Cauchy)',
      source: 'arctangent, exact',
      got: () => studentTail(1, 1),
      want: 0.5,
      within: 1e-12,
    },
    {
      what: 'coverage factor for 95 % and ν 19',
      source: 'JCGM 100 G.4.1',
      got: () => studentQuantile(0.95, 19),
      want: 2.093,
      plusMinus: 5e-5,
    },
    {
      what: 'coverage factor for 95.45 % and endless ν',
      source: 'normal distribution',
      got: () => studentQuantile(0.9545, Infinity),
      want: 2,
      plusMinus: 5e-5,
    },
    {
      what: 'incomplete beta at 0.3, 2.5, 0.5',
      source: SCIPY,
      got: () => incompleteBeta(0.3, 2.5, 0.5),
      want: 0.018927124071945658,
      within: 1e-12,
    },
    {
      what: 'incomplete beta at 0.9, 50.25, 0.5',
      source: SCIPY,
      got: () => incompleteBeta(0.9, 50.25, 0.5),
      want: 0.001170306261440866,
      within: 1e-11,
    },
    {
      what: 'log gamma at 7.3',
      source: SCIPY,
      got: () => logGamma(7.3),
      want: 7.147892523022249,
      within: 1e-13,
    },
    {
      what: 'log gamma at 0.4',
      source: SCIPY,
      got: () => logGamma(0.4),
      want: 0.7966778177017838,
      within: 1e-13,
    },
    {
      what: 'normal quantile at 0.975',
      source: SCIPY,
      got: () => normalQuantile(0.975),
      want: 1.959963984540054,
      within: 1e-14,
    },
    {
      what: 'normal quantile at 1e-12',
      source: SCIPY,
      got: () => normalQuantile(1e-12),
      want: -7.034483825301131,
      within: 1e-11,
    },
    {
      what: 'normal quantile at 0.001',
      source: SCIPY,
      got: () => normalQuantile(0.001),
      want: -3.090232306167813,
      within: 1e-11,
    },
    {
      what: 'normal quantile at 0.3',
      source: SCIPY,
      got: () => normalQuantile(0.3),
      want: -0.5244005127080409,
      within: 1e-11,
    },
    {
      what: 'normal quantile at 0.07',
      source: SCIPY,
      got: () => normalQuantile(0.07),
      want: -1.4757910281791706,
      within: 1e-11,
    },
    {
      what: 'normal quantile at 0.9999',
      source: SCIPY,
      got: () => normalQuantile(0.9999),
      want: 3.719016485455709,
      within: 1e-11,
    },
  ])
  it('has no quantile for impossible arguments', () => {
    expect([studentQuantile(1, 5), studentQuantile(0.95, 0), studentQuantile(NaN, 3)]).toEqual([
      NaN,
      NaN,
      NaN,
    ])
  })
})
