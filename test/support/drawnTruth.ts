import { normal, type Random } from '../../simulator/random.ts'
import type { WornInstrument } from './wornInstruments.ts'

/** A plant whose file is a little wrong, within what it says or what is assumed, and what is true of it [SI]. */
export interface DoubtfulPlant {
  sections: string[]
  instruments: WornInstrument[]
  truth: Record<string, number>
}

/** Nature as textbooks have it, in formulas of their own: nothing of the server is used here. */

/** Normal gravity, WGS 84 (Somigliana), less 3.086e-6 a metre; latitude in degrees. */
export function gravityAt(latitude: number, altitude: number): number {
  const s = Math.sin((latitude * Math.PI) / 180) ** 2
  return (
    (9.7803253359 * (1 + 0.00193185265241 * s)) / Math.sqrt(1 - 0.00669437999014 * s) - 3.086e-6 * altitude
  )
}

/** Density of water, Kell 1975 (J. Chem. Eng. Data 20:97), with 4.8e-10 /Pa; t in °C, gauge pressure in Pa. */
export function densityAt(t: number, pressure: number): number {
  const above =
    999.83952 +
    16.945176 * t -
    7.9870401e-3 * t ** 2 -
    46.170461e-6 * t ** 3 +
    105.56302e-9 * t ** 4 -
    280.54253e-12 * t ** 5
  return (above / (1 + 16.87985e-3 * t)) * (1 + 4.8e-10 * pressure)
}

/** Orifice coefficient for corner taps, Stolz 1978 as in ISO 5167:1980 (in many fluid mechanics texts). */
export function stolz(beta: number, reynolds: number): number {
  return 0.5959 + 0.0312 * beta ** 2.1 - 0.184 * beta ** 8 + 0.0029 * beta ** 2.5 * (1e6 / reynolds) ** 0.75
}

export type Curve = [number, number][]

/** Straight lines, level beyond the ends. */
export function along(curve: Curve, x: number): number {
  const i = curve.findIndex(([at]) => at >= x)
  if (i < 0) return curve.at(-1)![1]
  if (i === 0) return curve[0]![1]
  const [[x0, y0], [x1, y1]] = [curve[i - 1]!, curve[i]!]
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0)
}

export function createDraw(random: Random) {
  const of = (low: number, high: number) => low + (high - low) * random()
  const off = (half: number, isNormal: boolean) =>
    isNormal ? (normal(random) / 1.959964) * half : of(-half, half)
  return {
    random,
    of,
    one: <T>(list: readonly T[]) => list[Math.floor(random() * list.length)]!,
    /** A constant as it is written, and as it is. */
    constant(written: number, half: number, isNormal = false) {
      return { written, truth: written + off(half, isNormal) }
    },
    /** A curve whose points are all off alike, or each by itself. @param half Of a point. */
    curve(written: Curve, half: (y: number) => number, isTogether: boolean): Curve {
      const common = of(-1, 1)
      return written.map(([x, y]) => [x, y + half(y) * (isTogether ? common : of(-1, 1))])
    },
  }
}
export type Draw = ReturnType<typeof createDraw>
