import { z } from 'zod'
import { curve, dateField, duration, idField, quantityField, ratio } from './fields.ts'

/** No alarm is shelved for longer than this [ms] (trade practice: 8 to 24 h, from memory). */
const LONGEST_SHELF_MS = 24 * 3_600_000

/**
 * One alarm of the plant file. Which fields a kind takes beyond those that all have is checked by the kind itself
 * (server/alarms/kinds/). Amounts carry a unit, e.g. "0.15 m", or are a share such as "110 % of rated".
 */
export const alarm = z.strictObject({
  id: idField,
  name: z.string().max(80),
  /** alarm: somebody has to do something. notice: for the next visit; kept out of the alarm list. */
  entry: z.enum(['alarm', 'notice']).default('alarm'),
  /** One of server/alarms/kinds/. */
  kind: idField,
  figure: quantityField.optional(),
  limit: z.string().optional(),
  deadband: z.string().optional(),
  /** Pairs of level and time: any level that is held for its time raises. */
  levels: z
    .array(z.strictObject({ limit: z.string(), for: duration() }))
    .min(1)
    .max(6)
    .optional(),
  /** Of a switch or contact: the state that raises. */
  is: z.enum(['on', 'off']).optional(),
  /** Time in which the change has to happen. */
  within: duration().optional(),
  direction: z.enum(['rising', 'falling', 'either', 'above', 'below']).optional(),
  /** What the figure is held against: a figure or an expression, e.g. "2 * pi * frequency / 2". */
  from: z.string().max(300).optional(),
  /** Points that `from` calls as curve(x). */
  curve: curve.optional(),
  /** Silence that raises. */
  after: duration().optional(),
  target: z.string().optional(),
  /** Standard deviation of single values. */
  spread: z.string().optional(),
  weight: ratio().optional(),
  width: z.number().positive().optional(),
  allowance: z.string().optional(),
  decision: z.string().optional(),
  /** Time over which one value of a chart is averaged. */
  every: duration().optional(),
  counter: idField.optional(),
  /** First day on which work is due, e.g. "2027-03-01", in the time of the plant. */
  due: dateField.optional(),
  /** Raise this long before the limit would be reached. */
  ahead: duration().optional(),
  /** Condition without which it means nothing, e.g. "running" or "activePower > 5 kW". */
  while: z.string().max(300).optional(),
  onDelay: duration().default(0),
  offDelay: duration().default(0),
  latching: z.boolean().default(false),
  priority: z.enum(['high', 'medium', 'low']),
  /** Alarms of one group have one cause: those after the first name it. */
  group: idField.optional(),
  /** Longest time that it may be shelved; default 8 h, of high priority 1 h, over-speed never. */
  shelf: duration()
    .refine((ms) => ms <= LONGEST_SHELF_MS, { error: 'expected at most 24 h' })
    .optional(),
  /** Keep a trace from 10 s before to 60 s after; over-speed and trips are always kept. */
  record: z.boolean().default(false),
  cause: z.string().max(300).optional(),
  consequence: z.string().max(300).optional(),
  action: z.string().max(300).optional(),
})
