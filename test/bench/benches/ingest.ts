import type { HealthReply } from '../../../server/wire/replies.ts'
import { type Bench, type BenchOptions, rowOf } from '../bench.ts'
import { type Child, type Note, startChild } from '../child.ts'
import { startHeadrace, until } from '../headrace.ts'
import { preciseNow } from '../parent.ts'

const MESSAGES = 200_000
const WARM_UP = 20_000
const ARRIVAL_LIMIT_MS = 120_000

interface At extends Note {
  at: number
}

/**
 * Readings per second through the whole pipeline (decode, derive, alarms, history, push), against a bare
 * subscriber that only parses the number. Same broker, same publisher, same machine; they take turns and never
 * run at the same time. Clock: from the publisher's first write until the last message is done with.
 */
export const ingest: Bench = { name: 'ingest', run }

async function run({ isFloorOnly, repetitions, share }: BenchOptions) {
  const broker = startChild('broker')
  const { port } = await broker.next<Note & { port: number }>('ready')
  const publisher = startChild('publisher', [String(port)])
  await publisher.next('ready')
  const count = Math.round(MESSAGES * share)
  const runs = { headrace: [] as number[], floor: [] as number[] }
  let dropped = 0
  try {
    for (let i = 0; i < repetitions; i++) {
      runs.floor.push(await measureFloor({ port, publisher, count }))
      if (isFloorOnly) continue
      const result = await measureHeadrace({ port, publisher, count })
      runs.headrace.push(result.perSecond)
      dropped += result.dropped
    }
  } finally {
    await publisher.stop()
    await broker.stop()
  }
  const row = {
    bench: 'ingest',
    what: `${count} readings, 50 topics, QoS 0`,
    unit: '1/s',
    target: '≥ 0.6',
    runs,
  }
  return [rowOf(dropped > 0 ? { ...row, remark: `${dropped} readings were dropped and count as done` } : row)]
}

interface Load {
  port: number
  publisher: Child
  count: number
}

async function measureFloor({ port, publisher, count }: Load): Promise<number> {
  const subscriber = startChild('subscriber', [String(port)])
  await subscriber.next('ready')
  const burst = async (size: number) => {
    subscriber.tell({ type: 'expect', count: size })
    await subscriber.next('expecting')
    const began = publisher.next<At>('began')
    const arrived = subscriber.next<At>('arrived', ARRIVAL_LIMIT_MS)
    publisher.tell({ type: 'burst', count: size })
    return (size / ((await arrived).at - (await began).at)) * 1000
  }
  try {
    await burst(WARM_UP)
    return await burst(count)
  } finally {
    await subscriber.stop()
  }
}

async function measureHeadrace({ port, publisher, count }: Load) {
  const headrace = await startHeadrace(port)
  const burst = async (size: number) => {
    const before = progress(await headrace.health())
    let now = before
    const began = publisher.next<At>('began')
    publisher.tell({ type: 'burst', count: size })
    const isDone = async () => {
      now = progress(await headrace.health())
      return now.done + now.dropped - before.done - before.dropped >= size
    }
    await until(isDone, { what: `all ${size} readings are through Headrace`, limitMs: ARRIVAL_LIMIT_MS })
    return {
      perSecond: (size / (preciseNow() - (await began).at)) * 1000,
      dropped: now.dropped - before.dropped,
    }
  }
  try {
    await burst(WARM_UP)
    return await burst(count)
  } finally {
    await headrace.stop()
  }
}

/** Readings that every stage is done with, and readings given up. What waits in a queue is not done. */
function progress(health: HealthReply): { done: number; dropped: number } {
  const waiting = health.queues.reduce((sum, queue) => sum + queue.length, 0)
  const received = health.topics.reduce((sum, topic) => sum + topic.received, 0)
  const dropped = health.queues.reduce((sum, queue) => sum + queue.dropped, 0)
  return { done: received - waiting, dropped }
}
