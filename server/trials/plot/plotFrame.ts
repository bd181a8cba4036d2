import { endsOf, valuesAlong } from '../../wire/drawn.ts'
import { COLOURS, type Plot } from './plot.ts'
import { escapeMarkup, textWidth } from './plotText.ts'

export const WIDTH = 800
export const FONT = "'Open Sans', 'Noto Sans', system-ui, sans-serif"
const PLOT_HEIGHT = 330
const RIGHT = 24
const TICK_SIZE = 13
const LABEL_SIZE = 14

/** Where values lie in the picture, and the axes drawn round it. */
export interface Frame {
  left: number
  top: number
  right: number
  bottom: number
  place(x: number, y: number): [number, number]
  /** The whole height of the picture. */
  height: number
  axes: string
}

/** @param top Height that title and legend take. */
export function frameOf(plot: Plot, top: number): Frame {
  const y = ticksOf(plot, 'y', 9)
  const x = ticksOf(plot, 'x', 10)
  const yTexts = y.values.map((value) => tickText(value, y))
  const left = 40 + Math.max(...yTexts.map((text) => textWidth(text, TICK_SIZE)))
  const bottom = top + PLOT_HEIGHT
  const right = WIDTH - RIGHT
  const across = (value: number) => left + ((value - x.low) / (x.high - x.low)) * (right - left)
  const down = (value: number) => bottom - ((value - y.low) / (y.high - y.low)) * (bottom - top)
  const place = (atX: number, atY: number): [number, number] => [across(atX), down(atY)]
  const box = { left, top, right, bottom }
  return {
    ...box,
    place,
    height: bottom + 58,
    axes: [
      ...x.values.map((value) => xTick(across(value), tickText(value, x), box)),
      ...y.values.map((value, i) => yTick(down(value), yTexts[i]!, box)),
      `<rect x="${n(left)}" y="${n(top)}" width="${n(right - left)}" height="${n(bottom - top)}" fill="none" stroke="${COLOURS.frame}"/>`,
      `<text x="${n((left + right) / 2)}" y="${n(bottom + 44)}" font-size="${LABEL_SIZE}" text-anchor="middle">${escapeMarkup(plot.x)}</text>`,
      `<text transform="translate(18 ${n((top + bottom) / 2)}) rotate(-90)" font-size="${LABEL_SIZE}" text-anchor="middle">${escapeMarkup(plot.y)}</text>`,
    ].join('\n'),
  }
}

/** Numbers of a picture with a tenth of a pixel. */
export function n(value: number): string {
  return String(Number(value.toFixed(1)))
}

/** Everything that has to be seen along one axis, with round values beside it. */
function ticksOf({ series, theory, best, hasZeroLine }: Plot, axis: 'x' | 'y', most: number): Ticks {
  const common = { points: [], curve: null, best, theory: theory?.lines ?? [] }
  const values = [...series, common].flatMap((one) => valuesAlong(axis, one))
  if (hasZeroLine && axis === 'y') values.push(0)
  return roundTicks(...endsOf(values, { room: 0.04, isFromZero: true }), most)
}

function tickText(value: number, { decimals }: Ticks): string {
  const text = Math.abs(value).toFixed(decimals)
  return Number(text) !== 0 && value < 0 ? `\u2212${text}` : text
}

type Box = Pick<Frame, 'left' | 'top' | 'right' | 'bottom'>

function xTick(x: number, text: string, { top, bottom }: Box): string {
  return (
    `<path d="M${n(x)} ${n(top)}V${n(bottom)}" stroke="${COLOURS.grid}"/><path d="M${n(x)} ${n(bottom)}v5" stroke="${COLOURS.frame}"/>` +
    `<text x="${n(x)}" y="${n(bottom + 20)}" font-size="${TICK_SIZE}" text-anchor="middle">${text}</text>`
  )
}

function yTick(y: number, text: string, { left, right }: Box): string {
  return (
    `<path d="M${n(left)} ${n(y)}H${n(right)}" stroke="${COLOURS.grid}"/><path d="M${n(left)} ${n(y)}h-5" stroke="${COLOURS.frame}"/>` +
    `<text x="${n(left - 9)}" y="${n(y + 4.5)}" font-size="${TICK_SIZE}" text-anchor="end">${text}</text>`
  )
}

/** One axis: its ends and the round values that are written beside it. */
export interface Ticks {
  low: number
  high: number
  values: number[]
  /** Decimals that tell the values apart. */
  decimals: number
}

const STEPS = [1, 2, 2.5, 5, 10]

/**
 * Round values (1, 2, 2.5 or 5 times a power of ten) that cover the range, and ends that lie on such values.
 *
 * @param high Above `low`. @param most At most so many values.
 *
 * Example: 0.17 … 3.9 with 8 → 0, 0.5, … 4.
 */
export function roundTicks(low: number, high: number, most: number): Ticks {
  const step = stepFor(low, high, most)
  const first = Math.floor(low / step + 1e-9)
  const last = Math.ceil(high / step - 1e-9)
  const decimals = decimalsOf(step)
  const values = Array.from({ length: last - first + 1 }, (_, i) =>
    Number(((first + i) * step).toFixed(decimals)),
  )
  return { low: values[0]!, high: values.at(-1)!, values, decimals }
}

function stepFor(low: number, high: number, most: number): number {
  const power = 10 ** Math.floor(Math.log10((high - low) / most))
  for (const factor of [...STEPS, 20, 50]) {
    const step = factor * power
    if (Math.ceil(high / step - 1e-9) - Math.floor(low / step + 1e-9) < most) return step
  }
  return 100 * power
}

function decimalsOf(step: number): number {
  for (let decimals = 0; decimals < 12; decimals++)
    if (Math.abs(step - Number(step.toFixed(decimals))) < step * 1e-6) return decimals
  return 12
}
