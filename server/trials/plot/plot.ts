import type { DrawnBest, DrawnCurve, DrawnPoint, TheoryLine } from '../../wire/drawn.ts'

/** A picture of points and curves, in the units of its axes; plain values. */
export interface Plot {
  title: string
  /** Trial, plant, date, class: one text, laid into lines. */
  subtitle: string
  /** With units, e.g. "Discharge [L/s]". */
  x: string
  y: string
  series: PlotSeries[]
  /** Dashed: what was expected. */
  theory: { label: string; lines: TheoryLine[] } | null
  best: DrawnBest | null
  /** A thin line at y = 0. */
  hasZeroLine: boolean
}

export interface PlotSeries {
  label: string
  points: DrawnPoint[]
  curve: (DrawnCurve & { label: string }) | null
}

/** The palette of the page on white, each at least 4.5:1 (blue, vermillion and black lines). */
export const COLOURS = {
  series: ['#1a1d21', '#005f9e', '#7a3b78', '#5b4a00'],
  best: '#b34700',
  theory: '#4b535b',
  ink: '#1a1d21',
  muted: '#4b535b',
  grid: '#d7dbdf',
  frame: '#68717a',
} as const
