import { type CusumState, cusumStep } from '../../statistics/controlChart.ts'
import { watchChart } from './chart.ts'
import type { AlarmKind } from './kind.ts'

/**
 * A small lasting shift: a one-sided cumulative sum of (x − target) ∓ allowance exceeds the decision limit.
 * Source: NIST/SEMATECH e-Handbook, 6.3.2.3.
 */
export const cusum: AlarmKind = {
  id: 'cusum',
  hasAmount: true,
  isForSafety: false,
  needs: ['figure', 'target', 'allowance', 'decision', 'direction'],
  may: ['every'],
  read(fields) {
    const target = fields.level('target')
    const allowance = fields.difference('allowance')
    const decision = fields.difference('decision')
    return {
      condition: `shifts away from ${fields.file.target} (cumulative sum)`,
      uses: [fields.figure.id],
      open(inputs) {
        let sums: CusumState = { high: 0, low: 0 }
        const step = (value: number) => {
          sums = cusumStep(sums, value, { target, allowance })
          return { high: sums.high > decision, low: sums.low > decision }
        }
        return watchChart(fields, step, inputs)
      },
    }
  },
}
