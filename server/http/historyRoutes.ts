import type { IncomingMessage } from 'node:http'
import { z } from 'zod'
import { nodeOf, type Plan } from '../derive/plan.ts'
import { signalName } from '../history/recorder.ts'
import { noFigure } from '../outcome.ts'
import { type HistoryReply, historyReply } from '../wire/replies.ts'
import type { HttpContext } from './context.ts'
import { HttpFault } from './errors.ts'
import { plantOf } from './plantsRoutes.ts'
import { get } from './route.ts'
import { inTurn } from './turns.ts'

const MOST_FIGURES = 20
/**
 * Figures × points of one reply. Whatever the span, a point is made of at most 60 rows of a roll-up, or of the samples
 * of a minute: so this bounds what has to be read, and the reply to some 1.5 MB.
 */
const MOST_CELLS = 25_000
const DEFAULT_SPAN_MS = 3_600_000

const moment = z.coerce.number().int().min(0).max(8_640_000_000_000_000)
export const historyQuery = z.object({
  figures: z
    .string()
    .min(1)
    .transform((text) => [...new Set(text.split(','))])
    .refine((list) => list.length <= MOST_FIGURES, { error: `expected at most ${MOST_FIGURES} figures` })
    .describe('Figure ids, separated by commas, at most 20'),
  from: moment.exactOptional().describe('Start; default one hour before the end'),
  to: moment.exactOptional().describe('End, exclusive; default now'),
  points: z.coerce.number().int().min(1).max(5000).default(1000).describe('Number of buckets'),
})

/** Curves of figures. */
export const historyRoutes = [
  get('read', '/api/plants/:plant/history', {
    summary: 'Minimum, mean and maximum per bucket',
    query: historyQuery,
    reply: historyReply,
    handle(context, { params, query, request }) {
      const { plan } = plantOf(context, params.plant)
      return readHistory(context, request, { plan, wish: query, newest: context.now() })
    },
  }),
]

interface HistoryWish {
  plan: Plan
  wish: z.infer<typeof historyQuery>
  /** End of the span where none is asked for [ms UTC]. */
  newest: number
}

/** @throws {HttpFault} 400 for a span that is none or too much at once, 404 for a figure that the plant does not have, 429 where too much waits. */
export async function readHistory(
  { history, turns, access }: Pick<HttpContext, 'history' | 'turns' | 'access'>,
  request: IncomingMessage,
  { plan, wish, newest }: HistoryWish,
): Promise<HistoryReply> {
  const { figures, points, to = newest } = wish
  const from = wish.from ?? to - DEFAULT_SPAN_MS
  if (from >= to) throw new HttpFault(400, { error: `"from" (${from}) must be before "to" (${to}).` })
  if (figures.length * points > MOST_CELLS)
    throw new HttpFault(400, { error: tooMuch(figures.length, points) })
  const unknown = figures.find((id) => !plan.indexOf.has(id))
  if (unknown !== undefined) throw new HttpFault(404, { error: noFigure(unknown).error })
  const signals = figures.map((id) => signalName(plan.plant.id, id))
  return inTurn({ turns, access, of: 'history' }, request, async () => {
    const found = await history.query({ signals, from, to, points })
    return {
      from,
      to,
      bucketMs: found.bucketMs,
      at: [...found.at],
      figures: figures.map((id, i) => ({
        id,
        unit: nodeOf(plan, id)!.description.unit,
        min: withGaps(found.columns[i]!.min),
        mean: withGaps(found.columns[i]!.mean),
        max: withGaps(found.columns[i]!.max),
      })),
    }
  })
}

function tooMuch(figures: number, points: number): string {
  return `${figures} figures at ${points} points are too much for one reply, expected ${MOST_CELLS} together at most: ask for ${Math.floor(MOST_CELLS / figures)} points, or for fewer figures at a time.`
}

/** A gap is NaN inside and null on the wire; this is the one place where it turns. */
function withGaps(column: Float64Array): (number | null)[] {
  return Array.from(column, (value) => (Number.isNaN(value) ? null : value))
}
