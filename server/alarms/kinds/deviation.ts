import type { AlarmKind } from './kind.ts'

/**
 * A figure away from what it is held against: another figure, an expression, or a curve of the plant file. A limit
 * in per cent is a share of that reference, unless the figure is itself a share.
 */
export const deviation: AlarmKind = {
  id: 'deviation',
  hasAmount: true,
  lossOf: null,
  isForSafety: false,
  needs: ['figure', 'from', 'limit'],
  may: ['deadband', 'direction', 'curve'],
  read(place) {
    const { file, figure } = place
    const from = place.expression('from')
    const isShare = figure.unit !== '1' && /%\s*$/.test(file.limit!)
    const limit = isShare ? Number(/[\d.]+/.exec(file.limit!)?.[0]) / 100 : place.difference('limit')
    const deadband = file.deadband === undefined || isShare ? limit / 10 : place.difference('deadband')
    const side = { above: 'above', below: 'below' }[String(file.direction)] ?? 'away from'
    return {
      condition: `${file.limit} or more ${side} ${file.from}`,
      uses: [figure.id, ...from.uses],
      open({ figures, wasHeld, evaluate }) {
        let isHeld = wasHeld
        let away = Number.NaN
        return {
          watches: [],
          isWorse: (a, b) => (file.direction === 'below' ? a < b : a > b),
          look({ now }) {
            const quality = figures.quality(figure.id)
            const value = figures.value(figure.id)
            const reference = evaluate(from)
            if (quality === 'bad' || Number.isNaN(reference))
              return { holds: undefined, value: Number.NaN, at: now, quality: 'bad' }
            away = sided(value - reference, file.direction) / (isShare ? Math.abs(reference) : 1)
            isHeld = !Number.isNaN(away) && away >= (isHeld ? limit - deadband : limit)
            return { holds: isHeld, value, at: figures.at(figure.id) || now, quality }
          },
          detail: () => (isHeld && isShare ? `by ${(away * 100).toFixed(1)} %` : undefined),
        }
      },
    }
  },
}

function sided(difference: number, direction: string | undefined): number {
  if (direction === 'above') return difference
  return direction === 'below' ? -difference : Math.abs(difference)
}
