import type { MqttClient } from 'mqtt'
import { createEmbeddedBroker } from '../../../server/ingest/broker/embedded.ts'
import type { LivePlant } from '../../../server/livePlant.ts'
import type { Instrument, Plant } from '../../../server/plant/plant.ts'
import type { AlarmView } from '../../../server/wire/alarm.ts'
import { fromSi, toSi, unitOf } from '../../../server/wire/units.ts'
import { type EvaluatorBench, evaluatorBench } from '../../support/evaluatorBench.ts'
import { plantOf } from '../../support/plants.ts'
import { connectPublisher } from '../../support/publisher.ts'
import { type TestHeadrace, testHeadrace } from '../../support/testHeadrace.ts'
import type { NastyRow } from './row.ts'

/** A figure as it was said, in the unit of people. */
export interface SaidFigure {
  value: number | null
  u95: number
  quality: string
  reasons: string[]
}

/** What Headrace said at the end of a row. */
export interface Said {
  figures: Record<string, SaidFigure>
  state: string
  sentence: string
  alarms: Record<string, string>
  journal: string[]
  counters: Record<string, { counted: number; gap: number }>
  faults: number
  /** Second by second, what was called good and is not so. */
  untrue: string[]
}

/** Seconds in which a plant of the table runs as it should before its row begins. */
const BEFORE_S = 30

interface Played {
  row: NastyRow
  /** Id of its plant. */
  id: string
  /** The figures of the same plant when its instruments say what is really so. */
  twin: EvaluatorBench
  /** What is really so just now, by instrument. */
  world: Record<string, number>
  untrue: string[]
  before?: { sequence: number; counters: Record<string, { value: number; gap: number }> }
  said?: Said
}

/** All rows at once: each has a plant of its own in one real Headrace, whose broker a client of an MQTT library feeds. */
export async function playRows(rows: readonly NastyRow[]): Promise<Said[]> {
  const played = rows.map((row, i): Played => {
    const id = `row-${i}`
    return { row, id, twin: evaluatorBench(plantFor(row, id)), world: { ...row.plant.normal }, untrue: [] }
  })
  let url = () => ''
  const headrace = await testHeadrace({
    plants: played.map(({ twin }) => twin.plan.plant),
    options: { tickMs: 500, publishFigures: false },
    broker(clock) {
      const broker = createEmbeddedBroker({ clock, port: 0 })
      url = broker.innerUrl
      return { ...broker, url }
    },
  })
  const client = await connectPublisher(url())
  const last = Math.max(...rows.map((row) => secondsOf(row)))
  try {
    for (let second = -BEFORE_S; second < last; second++)
      await playSecond({ headrace, client }, played, second)
    return played.map(({ said }) => said!)
  } finally {
    await client.endAsync(true)
    await headrace.close()
  }
}

function plantFor({ plant, more = '' }: NastyRow, id: string): Plant {
  return plantOf(`id: ${id}\nname: ${id}\n${plant.file}${more}`.replaceAll('PLANT', id))
}

function secondsOf({ steps }: NastyRow): number {
  return steps.reduce((sum, { seconds }) => sum + seconds, 0)
}

interface Stage {
  headrace: TestHeadrace
  client: MqttClient
}

async function playSecond(stage: Stage, played: readonly Played[], second: number): Promise<void> {
  const { headrace, client } = stage
  const underWay = played.filter(({ row }) => second < secondsOf(row))
  const received = () => headrace.watch.health.progress().received
  const before = received()
  let count = 0
  for (const one of underWay) {
    if (second === 0) one.before = standBefore(headrace, one.id)
    for (const [topic, payload] of send(one, second, headrace.clock.now())) {
      count++
      client.publish(topic, payload)
    }
  }
  // Acknowledged when the broker has it, and so all that came before.
  await client.publishAsync('table/second', String(second), { qos: 1 })
  while (received() < before + count) await new Promise(setImmediate)
  headrace.clock.advance(1000)
  for (const one of underWay) {
    one.twin.evaluate(headrace.clock.now())
    one.untrue.push(...untrueNow(headrace.live(one.id), one.twin, second))
    if (second === secondsOf(one.row) - 1) one.said = sayings(headrace, one)
  }
}

/** Tells the twin what is so, and gives the messages that its plant gets in this second. */
function send(
  { row, id, twin, world }: Played,
  second: number,
  now: number,
): [topic: string, payload: string][] {
  const step = stepAt(row, second)
  const isFirst = step?.isFirst === true || second === -BEFORE_S
  if (isFirst) Object.assign(world, step?.is)
  return twin.plan.plant.instruments.flatMap((instrument): [string, string][] => {
    if (!instrument.periodic && !isFirst) return []
    const value = world[instrument.id]!
    twin.read(instrument.quantity, toSi(value, instrument.unit), { measuredAt: now })
    const sent = step?.sent?.[instrument.id]
    if (sent === null) return []
    const payload = typeof sent === 'function' ? sent(now) : sent
    return [[`${id}/${instrument.id}`, payload ?? usualPayload(instrument, value, now)]]
  })
}

function usualPayload({ payload }: Instrument, value: number, now: number): string {
  return payload !== 'number' && payload.format === 'json'
    ? JSON.stringify({ value, at: now })
    : String(value)
}

function stepAt({ steps }: NastyRow, second: number) {
  let from = 0
  for (const step of steps) {
    if (second >= from && second < from + step.seconds) return { ...step, isFirst: second === from }
    from += step.seconds
  }
  return undefined
}

/** Figures that are called good and lie outside their ± from what the twin, which was told the truth, knows. */
function untrueNow(live: LivePlant, twin: EvaluatorBench, second: number): string[] {
  return live.plan.nodes.flatMap(({ index, description: { id, viewUnit } }) => {
    const { quality, value, u95 = 0 } = live.evaluator.view(index)
    const real = twin.evaluator.value(index)
    if (quality !== 'good' || value === null) return []
    if (Math.abs(value - real) <= u95 + 1e-9 * Math.abs(real)) return []
    const amount = (si: number) => Number(fromSi(si, unitOf(viewUnit)).toPrecision(4))
    return [`${second} s: ${id} said ${amount(value)}, is ${amount(real)} ${viewUnit}`]
  })
}

function standBefore({ watch, live }: TestHeadrace, id: string): NonNullable<Played['before']> {
  return {
    sequence: watch.journal.newest(id, { limit: 1 })[0]?.sequence ?? 0,
    counters: countersOf(live(id)),
  }
}

function countersOf(live: LivePlant): Record<string, { value: number; gap: number }> {
  return Object.fromEntries(
    live.counters.views().map(({ id, value, gapSeconds }) => [id, { value, gap: gapSeconds }]),
  )
}

function sayings({ live, watch }: TestHeadrace, { id, untrue, before }: Played): Said {
  const plant = live(id)
  const { state, sentence } = plant.state()
  const entries = watch.journal.newest(id, { limit: 200 }).reverse()
  const topics = watch.health.reply().topics.filter((topic) => topic.plant === id)
  return {
    untrue,
    state,
    sentence,
    figures: Object.fromEntries(
      plant.plan.nodes.map(({ index, description }) => [description.id, figureSaid(plant, index)]),
    ),
    alarms: Object.fromEntries(plant.board.views().map((view) => [view.id, alarmSaid(view)])),
    journal: entries
      .filter(({ sequence }) => sequence > before!.sequence)
      .map(({ alarm, event }) => `${alarm} ${event}`),
    counters: Object.fromEntries(
      Object.entries(countersOf(plant)).map(([counter, { value, gap }]) => {
        const from = before!.counters[counter] ?? { value: 0, gap: 0 }
        return [counter, { counted: value - from.value, gap: gap - from.gap }]
      }),
    ),
    faults: topics.reduce((sum, { faults }) => sum + faults, 0),
  }
}

function alarmSaid({ state, active, unknown }: AlarmView): string {
  return [state, ...(active ? ['active'] : []), ...(unknown ? ['unknown'] : [])].join(', ')
}

function figureSaid({ plan, evaluator }: LivePlant, index: number): SaidFigure {
  const { viewUnit } = plan.nodes[index]!.description
  const unit = unitOf(viewUnit)
  const { value, u95 = 0, quality, reasons } = evaluator.view(index)
  return { value: value === null ? null : fromSi(value, unit), u95: u95 / unit.factor, quality, reasons }
}
