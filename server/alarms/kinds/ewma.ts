import { ewmaLimits, ewmaStep } from '../../statistics/controlChart.ts'
import { type Chart, chartPlace, watchChart } from './chart.ts'
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
  lossOf: null,
  isForSafety: false,
  needs: ['figure', 'target', 'spread', 'direction'],
  may: ['weight', 'width', 'every'],
  read(place) {
    const { file } = place
    const weight = file.weight ?? DEFAULT_WEIGHT
    const target = place.level('target')
    const limits = ewmaLimits({
      target,
      deviation: place.difference('spread'),
      weight,
      width: file.width ?? DEFAULT_WIDTH,
    })
    const chart = (): Chart => {
      let average = target
      return {
        step(value) {
          average = ewmaStep(average, value, weight)
          return { high: average > limits.high, low: average < limits.low }
        },
      }
    }
    return {
      condition: `drifts away from ${file.target} (moving average)`,
      uses: [place.figure.id],
      open: (inputs) => watchChart(chartPlace(place), chart(), inputs),
    }
  },
}
