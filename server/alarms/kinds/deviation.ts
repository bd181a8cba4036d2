import type { AlarmKind } from './kind.ts'
import { watchFigure } from './watchFigure.ts'

/**
 * A figure away from what it is held against: another figure, an expression, or a curve of the plant file. A limit
 * in per cent is a share of that reference, unless the figure is itself a share.
 */
export const deviation: AlarmKind = {
  id: 'deviation',
  hasAmount: true,
  isForSafety: false,
  needs: ['figure', 'from', 'limit'],
  may: ['deadband', 'direction', 'curve'],
  read(fields) {
    const { file, figure } = fields
    const from = fields.expression('from')
    const isShare = figure.unit !== '1' && /%\s*$/.test(file.limit!)
    const limit = isShare ? Number(/[\d.]+/.exec(file.limit!)?.[0]) / 100 : fields.difference('limit')
    const deadband = file.deadband === undefined || isShare ? limit / 10 : fields.difference('deadband')
    const side = { above: 'above', below: 'below' }[String(file.direction)] ?? 'away from'
    return {
      condition: `${file.limit} or more ${side} ${file.from}`,
      uses: [figure.id, ...from.uses],
      open(inputs) {
        let away = Number.NaN
        return watchFigure(figure.id, inputs, {
          isWorse: (a, b) => (file.direction === 'below' ? a < b : a > b),
          holds(value, wasHeld) {
            const reference = inputs.evaluate(from)
            if (Number.isNaN(reference)) return undefined
            away = sided(value - reference, file.direction) / (isShare ? Math.abs(reference) : 1)
            return away >= (wasHeld ? limit - deadband : limit)
          },
          detail: (isHeld) => (isHeld && isShare ? `by ${(away * 100).toFixed(1)} %` : undefined),
        })
      },
    }
  },
}

function sided(difference: number, direction: string | undefined): number {
  if (direction === 'above') return difference
  return direction === 'below' ? -difference : Math.abs(difference)
}
