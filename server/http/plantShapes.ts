import { z } from 'zod'
import type { BalanceReply, ReconciledInstrument, RelationView } from '../wire/balance.ts'
import type { PlantSummary, PlantView, Snapshot } from '../wire/plant.ts'
import type { CounterDaysReply, CounterView, IndexView } from '../wire/replies.ts'
import type { SceneView } from '../wire/scene.ts'
import {
  alarmView,
  figureDescription,
  figureValue,
  number,
  objectOf,
  quality,
  shapeOf,
  stateView,
  text,
  time,
  timeOrNull,
} from './shapes.ts'

export const plantSummary = shapeOf<PlantSummary>()(
  z.object({
    id: text,
    name: text,
    summary: text,
    simulated: z.boolean(),
    state: stateView,
    headline: z.object({ figure: figureDescription, value: figureValue }).nullable(),
    unacknowledged: number,
    active: number,
    lastReceivedAt: timeOrNull,
  }),
)

export const snapshot = shapeOf<Snapshot>()(
  z
    .object({
      sequence: number,
      at: time,
      plant: objectOf<PlantView>('What does not change: figures, the path of the power, cautions'),
      state: stateView,
      values: z.array(figureValue).describe('In the order of plant.figures'),
      alarms: z.array(alarmView),
      source: z.object({
        connected: z.boolean(),
        name: text,
        since: timeOrNull,
        detail: text.exactOptional(),
      }),
      health: z.object({
        faults: number,
        unmapped: number,
        storing: z.boolean(),
        storingDetail: text.exactOptional(),
        alertPath: text.exactOptional(),
      }),
      scene: objectOf<SceneView>('Only where this is not the plant as it is now').exactOptional(),
    })
    .meta({ id: 'Snapshot' }),
)

const period = z.object({
  from: time,
  to: time,
  value: number,
  gapSeconds: number,
  uncertainSeconds: number,
  peak: number.exactOptional(),
})

export const counterView = shapeOf<CounterView>()(
  z.object({
    id: text,
    name: text,
    group: z.enum(['energy', 'water', 'running', 'protection', 'battery']),
    unit: text,
    value: number,
    source: z.enum(['meter', 'integrated', 'counted']),
    since: time,
    at: timeOrNull,
    gapSeconds: number,
    uncertainSeconds: number,
    quality,
    today: period.nullable(),
    yesterday: period.nullable(),
    thisMonth: period.nullable(),
    peak: z.object({ value: number, unit: text, at: time }).exactOptional(),
    check: z.object({ today: number.nullable(), yesterday: number.nullable() }).exactOptional(),
    remarks: z.array(text),
  }),
)

export const counterDaysReply = shapeOf<CounterDaysReply>()(
  z.object({ id: text, unit: text, timeZone: text, days: z.array(period.extend({ date: text })) }),
)

const indexValue = z.object({
  from: time,
  to: time,
  value: number.nullable(),
  unknownSeconds: number,
  quality,
  reasons: z.array(text),
})

export const indexView = shapeOf<IndexView>()(
  z.object({
    id: text,
    name: text,
    unit: text,
    viewUnit: text,
    formula: text,
    needs: text.exactOptional(),
    thisMonth: indexValue.nullable(),
    since: indexValue.nullable(),
  }),
)

export const balanceReply = shapeOf<BalanceReply>()(
  z.object({
    verdict: z.enum(['agrees', 'suspect', 'notJudged']),
    sentence: text,
    at: time,
    suspects: z.array(
      z.object({ kind: z.enum(['instrument', 'relation']), id: text, name: text, says: text }),
    ),
    relations: z.array(objectOf<RelationView>('Two ways to one amount, and the gap between them')),
    instruments: z.array(objectOf<ReconciledInstrument>('The value that fits all relations best')),
    threshold: number,
  }),
)
