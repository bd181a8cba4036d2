import type { HealthReply } from '../../../server/wire/replies.ts'
import { type Bench, type BenchOptions, type Row, rowOf } from '../bench.ts'
import { type Child, type Note, startChild } from '../child.ts'
import { cpuTimeOf } from '../cpuTime.ts'
import { externalBroker, startHeadrace, until } from '../headrace.ts'
import { preciseNow } from '../parent.ts'
import { joinAsViewer } from '../viewer.ts'

const MESSAGES = 1_000_000
const WARM_UP = 50_000
const ARRIVAL_LIMIT_MS = 180_000

interface At extends Note {
  at: number
}

/** One burst. Times count from the publisher's first write. */
interface Burst {
  /** Until the last message was parsed, or had gone through decode, derive, alarms and into the recorder [1/s]. */
  taken: number
  /** Until the last reading was in the history store [1/s]; undefined for the floor. */
  stored?: number
  /** CPU time of the whole process per message [µs]; undefined where the system does not tell. */
  cpu: number | undefined
  /** Messages that came out as readings, and rows that history gave up. */
  readings?: number
  dropped?: number
}

/**
 * Readings per second through the whole pipeline (decode, derive, alarms, history, push to one viewer), against
 * a bare subscriber that only parses the number. Same broker, same publisher, same machine; they take turns and
 * never run at the same time.
 */
export const ingest: Bench = { name: 'ingest', run }

async function run({ isFloorOnly, repetitions, share }: BenchOptions): Promise<Row[]> {
  const broker = startChild('broker')
  const { port } = await broker.next<Note & { port: number }>('ready')
  const publisher = startChild('publisher', [String(port)])
  await publisher.next('ready')
  const load = { port, publisher, count: Math.round(MESSAGES * share) }
  const floor: Burst[] = []
  const headrace: Burst[] = []
  try {
    for (let i = 0; i < repetitions; i++) {
      floor.push(await measureFloor(load))
      if (!isFloorOnly) headrace.push(await measureHeadrace(load))
    }
  } finally {
    await publisher.stop()
    await broker.stop()
  }
  return rows({ floor, headrace, count: load.count })
}

function rows({ floor, headrace, count }: { floor: Burst[]; headrace: Burst[]; count: number }): Row[] {
  const remark = remarkOn(headrace, count)
  const what = `${count} readings, 50 topics`
  const taken = floor.map((one) => one.taken)
  return [
    rowOf({
      bench: 'ingest',
      what: `${what}, taken in`,
      unit: '1/s',
      target: '≥ 0.6',
      runs: { floor: taken, headrace: headrace.map((one) => one.taken) },
      ...(remark ? { remark } : {}),
    }),
    rowOf({
      bench: 'ingest',
      what: `${what}, stored (batches of 1 s)`,
      unit: '1/s',
      target: '≥ 0.6',
      runs: { floor: taken, headrace: headrace.map((one) => one.stored ?? Number.NaN) },
    }),
    rowOf({
      bench: 'ingest',
      what: 'CPU time per reading, all threads',
      unit: 'µs',
      target: '',
      runs: {
        floor: floor.map((one) => one.cpu ?? Number.NaN),
        headrace: headrace.map((one) => one.cpu ?? Number.NaN),
      },
    }),
  ]
}

function remarkOn(bursts: readonly Burst[], count: number): string | undefined {
  const missing = bursts.reduce((sum, one) => sum + count - (one.readings ?? count), 0)
  const dropped = bursts.reduce((sum, one) => sum + (one.dropped ?? 0), 0)
  if (missing === 0 && dropped === 0) return undefined
  return `over all repetitions ${missing} messages became no reading, and history gave up ${dropped} rows`
}

interface Load {
  port: number
  publisher: Child
  count: number
}

async function measureFloor({ port, publisher, count }: Load): Promise<Burst> {
  const subscriber = startChild('subscriber', [String(port)])
  await subscriber.next('ready')
  const burst = async (size: number): Promise<Burst> => {
    subscriber.tell({ type: 'expect', count: size })
    await subscriber.next('expecting')
    const cpuBefore = cpuTimeOf(subscriber.pid)
    const began = publisher.next<At>('began')
    const arrived = subscriber.next<At>('arrived', ARRIVAL_LIMIT_MS)
    publisher.tell({ type: 'burst', count: size })
    const elapsed = (await arrived).at - (await began).at
    return { taken: (size / elapsed) * 1000, cpu: cpuPer(size, cpuBefore, cpuTimeOf(subscriber.pid)) }
  }
  try {
    await burst(WARM_UP)
    return await burst(count)
  } finally {
    await subscriber.stop()
  }
}

async function measureHeadrace({ port, publisher, count }: Load): Promise<Burst> {
  const headrace = await startHeadrace(externalBroker(port))
  const leave = await joinAsViewer(headrace.url)
  const burst = async (size: number): Promise<Burst> => {
    const before = progress(await headrace.health())
    let now = before
    const reached = async (isDone: () => boolean, what: string) => {
      const ask = async () => {
        now = progress(await headrace.health())
        return isDone()
      }
      await until(ask, { what, limitMs: ARRIVAL_LIMIT_MS })
      return preciseNow()
    }
    const cpuBefore = cpuTimeOf(headrace.pid)
    const began = publisher.next<At>('began')
    publisher.tell({ type: 'burst', count: size })
    const takenAt = await reached(
      () => now.received - before.received >= size,
      `${size} messages were taken in`,
    )
    const { recorded } = now
    const storedAt = await reached(() => now.stored + now.dropped >= recorded, `${recorded} rows were stored`)
    const start = (await began).at
    return {
      taken: (size / (takenAt - start)) * 1000,
      stored: (size / (storedAt - start)) * 1000,
      cpu: cpuPer(size, cpuBefore, cpuTimeOf(headrace.pid)),
      readings: now.readings - before.readings,
      dropped: now.dropped - before.dropped,
    }
  }
  try {
    await burst(WARM_UP)
    return await burst(count)
  } finally {
    leave()
    await headrace.stop()
  }
}

function cpuPer(size: number, before: number | undefined, after: number | undefined): number | undefined {
  return before === undefined || after === undefined ? undefined : ((after - before) * 1000) / size
}

/** Totals since the start, from the stages of /api/health. */
function progress({ stages }: HealthReply) {
  const stage = (name: string) => {
    const found = stages.find((one) => one.name === name)
    if (!found) throw new Error(`/api/health has no stage "${name}"`)
    return found
  }
  const history = stage('history')
  return {
    received: stage('ingest').total,
    readings: stage('readings').total,
    recorded: history.total,
    stored: Number(/(\d+) rows stored/.exec(history.detail ?? '')?.[1] ?? Number.NaN),
    dropped: history.faults,
  }
}
