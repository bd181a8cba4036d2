import { z } from 'zod'
import type { AlarmView } from '../wire/alarm.ts'
import type { ExplainReply } from '../wire/explain.ts'
import type { FigureDescription, FigureValue } from '../wire/figure.ts'
import type { StateView } from '../wire/plant.ts'
import type { ErrorReply, QueueHealth } from '../wire/replies.ts'
import { ROLES } from '../wire/rights.ts'

/**
 * Takes a schema only where it describes exactly what crosses the wire: the compiler refuses a field too many, too
 * few or of another type.
 */
export function shapeOf<T>() {
  return <S extends z.ZodType<T>>(schema: S & ([T] extends [z.output<S>] ? unknown : never)): z.ZodType<T> =>
    schema
}

/** An object inside a reply that is described no further; the compiler knows what is in it. */
export function objectOf<T extends object>(description: string): z.ZodType<T> {
  const isObject = (value: unknown) => typeof value === 'object' && value !== null && !Array.isArray(value)
  return z.custom<T>(isObject).meta({ type: 'object', description })
}

export const number = z.number()
export const text = z.string()
/** Milliseconds since 1970 UTC. */
export const time = z.number()
export const timeOrNull = time.nullable()
export const role = z.enum(ROLES)

export const errorReply = shapeOf<ErrorReply>()(
  z
    .object({
      error: text,
      faults: z.array(z.object({ path: text, received: text, expected: text })).exactOptional(),
    })
    .meta({ id: 'Error' }),
)

export const quality = z.enum(['good', 'uncertain', 'bad'])

export const figureValue = shapeOf<FigureValue>()(
  z
    .object({
      value: number.nullable(),
      u95: number.exactOptional().describe('Half-width of the 95 % coverage interval'),
      at: timeOrNull,
      quality,
      reasons: z.array(text),
    })
    .meta({ id: 'FigureValue' }),
)

export const figureDescription = shapeOf<FigureDescription>()(
  z
    .object({
      id: text,
      name: text,
      symbol: text,
      unit: text,
      viewUnit: text,
      group: z.enum([
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
      ]),
      origin: z.enum(['measured', 'derived', 'estimated', 'counted']),
      discrete: z.literal(true).exactOptional(),
      background: z.literal(true).exactOptional(),
      rated: number.exactOptional(),
      low: number.exactOptional(),
      high: number.exactOptional(),
      staleAfterMs: number.nullable(),
    })
    .meta({ id: 'Figure' }),
)

export const stateView = shapeOf<StateView>()(
  z
    .object({
      state: z.enum(['running', 'stopped', 'overSpeed', 'standstill', 'unknown']),
      sentence: text,
      since: timeOrNull,
      balance: z.object({ verdict: z.enum(['agrees', 'suspect', 'notJudged']), sentence: text }),
    })
    .meta({ id: 'State' }),
)

export const priority = z.enum(['high', 'medium', 'low'])
export const alarmEntry = z.enum(['alarm', 'notice'])
export const alarmState = z.enum([
  'normal',
  'unacknowledged',
  'acknowledged',
  'returnedUnacknowledged',
  'latchedUnacknowledged',
  'latchedAcknowledged',
  'shelved',
  'suppressed',
  'outOfService',
])

export const alarmView = shapeOf<AlarmView>()(
  z
    .object({
      id: text,
      name: text,
      entry: alarmEntry,
      kind: text,
      priority,
      state: alarmState,
      active: z.boolean(),
      unknown: z.boolean(),
      figure: text,
      limit: number.exactOptional(),
      condition: text,
      detail: text.exactOptional(),
      value: number.nullable(),
      peak: number.nullable(),
      peakAt: timeOrNull,
      quality,
      raisedAt: timeOrNull,
      changedAt: timeOrNull,
      acknowledgedAt: timeOrNull,
      acknowledgedBy: text.nullable(),
      latching: z.boolean(),
      group: text.nullable(),
      after: text.nullable(),
      shelvedUntil: timeOrNull,
      withheld: z.object({ by: text, at: time, reason: text }).nullable(),
      longestShelfMs: number,
      hasAmount: z.boolean(),
      tellsOfLoss: z.boolean(),
      isForSafety: z.boolean(),
      cause: text.exactOptional(),
      consequence: text.exactOptional(),
      action: text.exactOptional(),
      simulated: z.boolean(),
    })
    .meta({ id: 'Alarm' }),
)

export const queueHealth = shapeOf<QueueHealth>()(
  z.object({ name: text, length: number, limit: number, policy: text, dropped: number }),
)

export const explainReply = shapeOf<ExplainReply>()(
  z
    .object({
      figure: figureDescription,
      value: figureValue,
      formula: z
        .object({
          symbols: text,
          numbers: text.nullable(),
          source: text,
          estimated: text.exactOptional(),
          valid: z.array(text),
        })
        .exactOptional(),
      instrument: z
        .object({
          id: text,
          name: text,
          topic: text,
          unit: text,
          range: z.tuple([number, number]).exactOptional(),
          accuracy: text,
        })
        .exactOptional(),
      inputs: z.array(z.object({ symbol: text, figure: figureDescription, value: figureValue })),
      constants: z.array(z.object({ symbol: text, path: text, value: number, unit: text })),
      uncertaintyShares: z.array(z.object({ instrument: text, name: text, share: number })),
    })
    .meta({ id: 'Explanation' }),
)
