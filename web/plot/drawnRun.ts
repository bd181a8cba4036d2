/** One run as drawn, in the units of the axes. */
export interface DrawnRun {
  points: DrawnPoint[]
  curve: { x: number[]; y: number[]; low: number[]; high: number[] } | null
  best: {
    x: number
    y: number
    xLow: number
    xHigh: number
    yLow: number
    yHigh: number
    label: string
  } | null
}

export interface DrawnPoint {
  number: number
  x: number
  y: number
  /** Half-widths of the 95 % intervals. */
  ux: number
  uy: number
  isKept: boolean
}
