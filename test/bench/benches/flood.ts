import { setTimeout as wait } from 'node:timers/promises'
import { freePort, hookAddress, type Measured, startWatcher } from '../alarms.ts'
import { type Bench, type BenchOptions, quantile, type Row, rowOf } from '../bench.ts'
import { type Note, startChild } from '../child.ts'
import { type Headrace, startHeadrace } from '../headrace.ts'

const ALARMS = 100
const FLOOD_RISES_MS = 5000

interface Side {
  quiet: Measured
  flooded: Measured
  /** Resident memory of watch and page side together [MB]. */
  memory: { quiet: number; flooded: number }
  /** p99 of the delay of the page's event loop in the flood [ms]. */
  pageDelay: number
  sent: string
}

/**
 * Over-speed to a webhook while everything floods the server at once, against the same server left in peace just before: strangers,
 * readers, sockets and MQTT clients, at the broker inside.
 */
export const flood: Bench = { name: 'flood', run }

async function run({ isFloorOnly, repetitions, share }: BenchOptions): Promise<Row[]> {
  const alarms = Math.max(1, Math.round(ALARMS * share))
  const sides: Side[] = []
  for (let i = 0; i < repetitions && !isFloorOnly; i++) sides.push(await measureSide(alarms))
  return sides.length === 0 ? [] : rows(sides, alarms)
}

function rows(sides: readonly Side[], alarms: number): Row[] {
  const lost = sides.reduce((sum, { flooded }) => sum + flooded.lost, 0)
  const remark = `${lost} of ${sides.length * alarms} alarms did not arrive within 2 s; sent ${sides.at(-1)!.sent}`
  const at = (p: number) =>
    rowOf({
      bench: 'flood',
      what: `webhook in the flood (floor: the same at peace): p${p * 100} of ${alarms} alarms`,
      unit: 'ms',
      target: p === 0.99 ? '≤ 2' : '',
      remark,
      runs: {
        headrace: sides.map(({ flooded }) => quantile(flooded.latencies, p)),
        floor: sides.map(({ quiet }) => quantile(quiet.latencies, p)),
      },
    })
  return [
    at(0.5),
    at(0.99),
    rowOf({
      bench: 'flood',
      what: 'memory of watch and page (floor: at peace)',
      unit: 'MB',
      target: '+ 50 MB',
      runs: {
        headrace: sides.map(({ memory }) => memory.flooded),
        floor: sides.map(({ memory }) => memory.quiet),
      },
    }),
    rowOf({
      bench: 'flood',
      what: 'delay of the page’s loop, p99',
      unit: 'ms',
      target: '≤ 50 ms',
      runs: { headrace: sides.map(({ pageDelay }) => pageDelay), floor: [] },
    }),
  ]
}

async function measureSide(alarms: number): Promise<Side> {
  const [mqttPort, hook] = [await freePort(), await freePort()]
  const headrace = await startHeadrace(['--mqtt-port', String(mqttPort)], hookAddress(hook))
  const watcher = await startWatcher([String(mqttPort), 'none', 'headrace', String(hook)])
  const quiet = await watcher.measure(alarms)
  const before = await memoryOf(headrace)
  const flooder = startChild('flooder', [String(mqttPort), headrace.url])
  try {
    await flooder.next('ready')
    await wait(FLOOD_RISES_MS)
    const flooded = await watcher.measure(alarms)
    const counted = flooder.next<Note & { sent: Record<string, number> }>('counted')
    flooder.tell({ type: 'count' })
    const { sent } = await counted
    await flooder.stop()
    const after = await memoryOf(headrace)
    return {
      quiet,
      flooded,
      memory: { quiet: before.memory, flooded: after.memory },
      pageDelay: after.pageDelay,
      sent: JSON.stringify(sent),
    }
  } finally {
    await flooder.stop()
    await watcher.stop()
    await headrace.stop()
  }
}

/** Asked again while the limits of the flood still hold. */
async function memoryOf({ health }: Headrace): Promise<{ memory: number; pageDelay: number }> {
  for (let i = 0; i < 100; i++) {
    const reply = await health().catch(() => undefined)
    if (reply?.processes)
      return {
        memory: reply.memoryRssBytes / 1e6,
        pageDelay:
          reply.processes.find(({ name }) => name === 'page side')?.eventLoopDelayP99Ms ?? Number.NaN,
      }
    await wait(200)
  }
  throw new Error('health was not told within 20 s after the flood')
}
