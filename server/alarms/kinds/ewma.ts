import { ewmaLimits, ewmaStep } from '../../statistics/controlChart.ts'
import { watchChart } from './chart.ts'
import type { AlarmKind } from './kind.ts'

const DEFAULT_WEIGHT = 0.2
const DEFAULT_WIDTH = 3

/**
 * A slow drift: the exponentially weighted moving average leaves target ± k·s·√(λ/(2 − λ)).
 * Source: NIST/SEMATECH e-Handbook, 6.3.2.4.
 */
export const ewma: AlarmKind = {
  id: 'ewma',
  hasAmount: true,
  isForSafety: false,
  needs: ['figure', 'target', 'spread', 'direction'],
  may: ['weight', 'width', 'every'],
  read(fields) {
    const { file } = fields
    const { weight = DEFAULT_WEIGHT, width = DEFAULT_WIDTH } = file
    const target = fields.level('target')
    const limits = ewmaLimits({ target, deviation: fields.difference('spread'), weight, width })
    return {
      condition: `drifts away from ${file.target} (moving average)`,
      uses: [fields.figure.id],
      open(inputs) {
        let average = target
        const step = (value: number) => {
          average = ewmaStep(average, value, weight)
          return { high: average > limits.high, low: average < limits.low }
        }
        return watchChart(fields, step, inputs)
      },
    }
  },
}
