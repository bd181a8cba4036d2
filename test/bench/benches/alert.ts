import { freePort, hookAddress, type Measured, watchAlarms } from '../alarms.ts'
import { type Bench, type BenchOptions, quantile, rowOf } from '../bench.ts'
import { type Note, startChild } from '../child.ts'
import { externalBroker, startHeadrace } from '../headrace.ts'
import { SPEED_TOPIC } from '../plantFile.ts'

const BACKGROUND_PER_SECOND = 5000
const ALARMS = 100

/**
 * From the sensor's publish to the receipt of an over-speed alarm by the browser, and by a webhook, against a bare
 * relay from MQTT to socket.io or HTTP, at the same background load of other readings. They take turns; each has the load
 * for itself.
 */
export const alert: Bench = { name: 'alert', run }

/** Where an alarm is seen to arrive. */
type End = 'browser' | 'webhook'
const ENDS: readonly End[] = ['browser', 'webhook']

interface Sides {
  floor: Measured[]
  headrace: Measured[]
}

async function run({ isFloorOnly, repetitions, share }: BenchOptions) {
  const broker = startChild('broker')
  const { port } = await broker.next<Note & { port: number }>('ready')
  const publisher = startChild('publisher', [String(port)])
  await publisher.next('ready')
  publisher.tell({ type: 'pace', perSecond: BACKGROUND_PER_SECOND })
  const alarms = Math.max(1, Math.round(ALARMS * share))
  const sides: Record<End, Sides> = {
    browser: { floor: [], headrace: [] },
    webhook: { floor: [], headrace: [] },
  }
  try {
    for (let i = 0; i < repetitions; i++) {
      for (const end of ENDS) {
        sides[end].floor.push(await measureRelay(port, alarms, end))
        if (!isFloorOnly) sides[end].headrace.push(await measureHeadrace(port, alarms, end))
      }
    }
  } finally {
    await publisher.stop()
    await broker.stop()
  }
  return ENDS.flatMap((end) => [0.5, 0.99].map((p) => row(p, { ...sides[end], alarms, end })))
}

function row(p: number, { floor, headrace, alarms, end }: Sides & { alarms: number; end: End }) {
  const at = (some: Measured[]) => some.map((one) => quantile(one.latencies, p))
  const lost = [...floor, ...headrace].reduce((sum, one) => sum + one.lost, 0)
  const target = end === 'browser' ? '≤ 2, and ≤ 50 ms' : '≤ 50 ms'
  const figures = {
    bench: 'alert',
    what: `${end}: p${p * 100} of ${alarms} alarms at ${BACKGROUND_PER_SECOND} readings/s`,
    unit: 'ms',
    target: p === 0.99 ? target : '',
    runs: { floor: at(floor), headrace: at(headrace) },
  }
  return rowOf(lost > 0 ? { ...figures, remark: `${lost} alarms did not arrive within 2 s` } : figures)
}

async function measureRelay(port: number, alarms: number, end: End): Promise<Measured> {
  const hook = end === 'webhook' ? await freePort() : undefined
  const relay = startChild('relay', [String(port), SPEED_TOPIC, ...(hook ? [hookAddress(hook)] : [])])
  try {
    const { url } = await relay.next<Note & { url: string }>('ready')
    return await watchAlarms([String(port), url, 'relay', ...(hook ? [String(hook)] : [])], alarms)
  } finally {
    await relay.stop()
  }
}

async function measureHeadrace(port: number, alarms: number, end: End): Promise<Measured> {
  const hook = end === 'webhook' ? await freePort() : undefined
  const headrace = await startHeadrace(
    externalBroker(port),
    hook === undefined ? undefined : hookAddress(hook),
  )
  try {
    return await watchAlarms(
      [String(port), headrace.url, 'headrace', ...(hook ? [String(hook)] : [])],
      alarms,
    )
  } finally {
    await headrace.stop()
  }
}
