import { fromSi, unitOf } from '../../wire/units.ts'
import type { AlarmKind } from './kind.ts'
import { watchFigure } from './watchFigure.ts'

/** Times into which the window is cut; of each, the lowest and highest value are kept. */
const PARTS = 60

/** A change by the limit or more within the time `within`, up, down or either way. */
export const rate: AlarmKind = {
  id: 'rate',
  hasAmount: true,
  isForSafety: false,
  needs: ['figure', 'limit', 'within', 'direction'],
  may: ['deadband'],
  read(fields) {
    const { file, figure } = fields
    const limit = fields.difference('limit')
    const deadband = fields.deadband(limit)
    const within = file.within!
    const minutes = within >= 60_000 ? `${within / 60_000} min` : `${within / 1000} s`
    const verb = { rising: 'rises', falling: 'falls' }[String(file.direction)] ?? 'changes'
    const unit = unitOf(figure.viewUnit)
    return {
      condition: `${verb} by ${file.limit} or more within ${minutes}`,
      uses: [figure.id],
      open(inputs) {
        const window = createWindow(within)
        let change = 0
        return watchFigure(figure.id, inputs, {
          isWorse: (a, b) => (file.direction === 'falling' ? a < b : a > b),
          holds(value, wasHeld, { mono }) {
            const { up, down } = window.add(value, mono)
            change =
              file.direction === 'rising' ? up : file.direction === 'falling' ? down : Math.max(up, down)
            return change >= (wasHeld ? limit - deadband : limit)
          },
          detail(isHeld) {
            const amount = Number(fromSi(change + unit.offset, unit).toPrecision(3))
            return isHeld ? `by ${amount} ${unit.print} within ${minutes}`.replace('  ', ' ') : undefined
          },
        })
      },
    }
  },
}

interface Part {
  since: number
  low: number
  high: number
}

/** How far the newest value is above the lowest and below the highest of the window. Bounded by PARTS. */
function createWindow(withinMs: number) {
  let parts: Part[] = []
  return {
    add(value: number, mono: number): { up: number; down: number } {
      const newest = parts.at(-1)
      if (newest && mono - newest.since < withinMs / PARTS) {
        newest.low = Math.min(newest.low, value)
        newest.high = Math.max(newest.high, value)
      } else parts.push({ since: mono, low: value, high: value })
      parts = parts.filter((part) => mono - part.since <= withinMs)
      return {
        up: value - Math.min(...parts.map((part) => part.low)),
        down: Math.max(...parts.map((part) => part.high)) - value,
      }
    },
  }
}
