import type { TraceReply } from '../../wire/trace.ts'
import { type Series, seriesOf } from './readings.ts'

/** What goes to the thread: plain values. */
export interface DrawRequest {
  number: number
  zeroAt: number
  raw: string[]
}

/** Readings of a line that are sent for drawing; with more, the lowest and highest of every stretch. */
export const MOST_DRAWN = 1200

export function drawTrace({ number, zeroAt, raw }: DrawRequest): TraceReply {
  const lines = Object.entries(seriesOf(raw)).map(([quantity, series]) => {
    const { at, value } = thinned(series)
    return { quantity, at: at.map((time) => (time - zeroAt) / 1000), value }
  })
  return { number, zeroAt, lines }
}

function thinned({ at, value }: Series): Pick<Series, 'at' | 'value'> {
  if (at.length <= MOST_DRAWN) return { at, value }
  const stretches = MOST_DRAWN / 2
  const places = Array.from({ length: stretches }, (_, k) => {
    const from = Math.floor((k * at.length) / stretches)
    const to = Math.floor(((k + 1) * at.length) / stretches)
    return extremes(value, from, to)
  }).flat()
  return { at: places.map((i) => at[i]!), value: places.map((i) => value[i]!) }
}

function extremes(value: readonly number[], from: number, to: number): number[] {
  let [low, high] = [from, from]
  for (let i = from; i < to; i++) {
    if (value[i]! < value[low]!) low = i
    if (value[i]! > value[high]!) high = i
  }
  return low === high ? [low] : [Math.min(low, high), Math.max(low, high)]
}
