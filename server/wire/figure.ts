import { z } from 'zod'
import { number, text, timeOrNull } from './shape.ts'

/** What a person is told about one value. Shared by server and browser. */

export const quality = z.enum(['good', 'uncertain', 'bad'])
/** Best first: a derived figure is never better than the worst input its formula uses. */
export type Quality = z.output<typeof quality>

/** Milliseconds since 1970-01-01T00:00:00Z. */
export type UtcMs = number

export const figureValue = z
  .object({
    value: number.nullable().describe('In the unit of the figure; null when it cannot be given'),
    u95: number
      .exactOptional()
      .describe('Half-width of the 95 % coverage interval; absent when every input is exact or a contact'),
    at: timeOrNull.describe(
      'Time of measurement of the oldest input; null before the first and for constants',
    ),
    quality,
    reasons: z.array(text).describe('Why not good, e.g. "discharge stale 14 s"; empty when good'),
  })
  .meta({ id: 'FigureValue' })
/** A value with the four properties without which nothing is derived from it: number, unit, time, quality. */
export type FigureValue = z.output<typeof figureValue>

export const figureGroup = z.enum([
  'water',
  'head',
  'machine',
  'electrical',
  'storage',
  'loads',
  'efficiency',
  'energy',
  'condition',
  'balance',
  'pump',
])
export type FigureGroup = z.output<typeof figureGroup>

export const figureDescription = z
  .object({
    id: text.describe('Unique within a plant, e.g. "netHead" or "jetOpen.2"'),
    name: text,
    symbol: text.describe('For formulas, e.g. "Hₙ"'),
    unit: text.describe('UCUM code of the unit on the wire: SI, e.g. "m", "W", "Pa", "rad/s", "1"'),
    viewUnit: text.describe('UCUM code of the unit people read it in, e.g. "kW", "bar", "/min", "%"'),
    group: figureGroup,
    origin: z
      .enum(['measured', 'derived', 'estimated', 'counted'])
      .describe('Straight from an instrument; by formula; by formula with a substitute; from counters'),
    discrete: z.literal(true).exactOptional().describe('A state, 0 or 1, not an amount: shown as a word'),
    background: z
      .literal(true)
      .exactOptional()
      .describe('Others are computed with it, or a designer compares it: folded away below the others'),
    rated: number.exactOptional(),
    low: number
      .exactOptional()
      .describe('Ends of the normal band, where the plant file gives ratings or limits'),
    high: number.exactOptional(),
    staleAfterMs: number
      .nullable()
      .describe(
        'Longest time without a new value before it counts as stale; null for what is sent on change',
      ),
  })
  .meta({ id: 'Figure' })
/** The fixed description of a figure; sent once in the snapshot. */
export type FigureDescription = z.output<typeof figureDescription>

/** What is read in K is a difference of temperatures: a temperature is read in °C. */
export function isTemperatureDifference({ unit, viewUnit }: FigureDescription): boolean {
  return unit === 'K' && viewUnit === 'K'
}

/** What cannot be computed at this plant and what it would need. */
export interface MissingFigure {
  id: string
  name: string
  /** A sentence, e.g. "needs torque, or a generator efficiency curve". */
  needs: string
}
