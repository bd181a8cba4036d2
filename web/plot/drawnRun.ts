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
  /** What the plant file predicts, one line for each setting; drawn for the first run only. */
  theory?: TheoryLine[]
}

/** A line of the plant file, in the units of the axes. */
export type TheoryLine = { x: number[]; y: number[] }

export interface DrawnPoint {
  number: number
  x: number
  y: number
  /** Half-widths of the 95 % intervals. */
  ux: number
  uy: number
  isKept: boolean
}
