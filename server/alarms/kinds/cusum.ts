import { type CusumState, cusumStep } from '../../statistics/controlChart.ts'
import { type Chart, chartPlace, watchChart } from './chart.ts'
import type { AlarmKind } from './kind.ts'

/**
 * A small lasting shift: a one-sided cumulative sum of (x − target) ∓ allowance exceeds the decision limit.
 * Source: NIST/SEMATECH e-Handbook, 6.3.2.3.
 */
export const cusum: AlarmKind = {
  id: 'cusum',
  hasAmount: true,
  lossOf: null,
  isForSafety: false,
  needs: ['figure', 'target', 'allowance', 'decision', 'direction'],
  may: ['every'],
  read(place) {
    const { file } = place
    const target = place.level('target')
    const allowance = place.difference('allowance')
    const decision = place.difference('decision')
    const chart = (): Chart => {
      let sums: CusumState = { high: 0, low: 0 }
      return {
        step(value) {
          sums = cusumStep(sums, value, { target, allowance })
          return { high: sums.high > decision, low: sums.low > decision }
        },
      }
    }
    return {
      condition: `shifts away from ${file.target} (cumulative sum)`,
      uses: [place.figure.id],
      open: (inputs) => watchChart(chartPlace(place), chart(), inputs),
    }
  },
}
