import { z } from 'zod'
import { flag, number, text, time } from './shape.ts'

export const eventSummary = z.object({
  id: text,
  plant: text,
  at: time.describe('When the alarm was raised that began the record'),
  alarm: text.describe('That alarm'),
  name: text,
  status: z
    .enum(['begun', 'complete', 'cut'])
    .describe('Still being recorded; complete; or cut, where the server ended before the record did'),
  story: z.array(text).describe('What happened, in a few sentences; the first one is the headline'),
  simulated: flag,
})
/** One line of the list of events. */
export type EventSummary = z.output<typeof eventSummary>
export type EventStatus = EventSummary['status']

const channel = z.object({
  quantity: text,
  name: text,
  unit: text.describe('UCUM code of the values'),
  viewUnit: text.describe('UCUM code of the unit that people read'),
  discrete: flag.describe('A state, 0 or 1: it lasts until the next sample'),
  at: z.array(number).describe('Milliseconds from the event'),
  value: z.array(number),
  dropped: number.describe('Samples that were left out because there were too many'),
})
/** Samples of one instrument at full rate. */
export type EventChannel = z.output<typeof channel>

const peak = z.object({
  speed: number.describe('rad/s'),
  share: number.nullable().describe('Of the rated speed; null where the plant file gives none'),
  at: time,
  witness: text.describe('What told it, e.g. "the tachometer"'),
})
/** The highest speed. */
export type EventPeak = z.output<typeof peak>

export const eventRecord = eventSummary.extend({
  from: time,
  to: time,
  channels: z.array(channel),
  peak: peak.nullable(),
  levels: z
    .array(z.object({ share: number, seconds: number }))
    .describe('Time at or above shares of the rated speed'),
  order: z
    .array(z.object({ alarm: text, name: text, at: time, came: flag }))
    .describe('Alarms as their conditions came and went, by time of measurement: first-out'),
})
export type EventRecord = z.output<typeof eventRecord>
