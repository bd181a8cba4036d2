import { type Bench, type BenchOptions, quantile, rowOf } from '../bench.ts'
import { type Child, type Note, startChild } from '../child.ts'
import { startHeadrace } from '../headrace.ts'
import { SPEED_TOPIC } from '../plantFile.ts'

const BACKGROUND_PER_SECOND = 5000
const ALARMS = 200
const WARM_UP = 30
const MEASURE_LIMIT_MS = 180_000

interface Measured extends Note {
  latencies: number[]
  lost: number
}

/**
 * From the sensor's publish to the browser's receipt of an over-speed alarm, against a bare relay from MQTT to
 * socket.io, at the same background load of other readings. They take turns; each has the load for itself.
 */
export const alert: Bench = { name: 'alert', run }

async function run({ isFloorOnly, repetitions, share }: BenchOptions) {
  const broker = startChild('broker')
  const { port } = await broker.next<Note & { port: number }>('ready')
  const publisher = startChild('publisher', [String(port)])
  await publisher.next('ready')
  publisher.tell({ type: 'pace', perSecond: BACKGROUND_PER_SECOND })
  const alarms = Math.max(1, Math.round(ALARMS * share))
  const floor: Measured[] = []
  const headrace: Measured[] = []
  try {
    for (let i = 0; i < repetitions; i++) {
      floor.push(await measureRelay(port, alarms))
      if (!isFloorOnly) headrace.push(await measureHeadrace(port, alarms))
    }
  } finally {
    await publisher.stop()
    await broker.stop()
  }
  return [row(0.5, { floor, headrace, alarms }), row(0.99, { floor, headrace, alarms })]
}

function row(
  p: number,
  { floor, headrace, alarms }: { floor: Measured[]; headrace: Measured[]; alarms: number },
) {
  const at = (some: Measured[]) => some.map((one) => quantile(one.latencies, p))
  const lost = [...floor, ...headrace].reduce((sum, one) => sum + one.lost, 0)
  const figures = {
    bench: 'alert',
    what: `p${p * 100} of ${alarms} alarms at ${BACKGROUND_PER_SECOND} readings/s`,
    unit: 'ms',
    target: p === 0.99 ? '≤ 2, and ≤ 50 ms' : '',
    runs: { floor: at(floor), headrace: at(headrace) },
  }
  return rowOf(lost > 0 ? { ...figures, remark: `${lost} alarms did not arrive within 2 s` } : figures)
}

async function measureRelay(port: number, alarms: number): Promise<Measured> {
  const relay = startChild('relay', [String(port), SPEED_TOPIC])
  try {
    const { url } = await relay.next<Note & { url: string }>('ready')
    return await watch([String(port), url, 'relay'], alarms)
  } finally {
    await relay.stop()
  }
}

async function measureHeadrace(port: number, alarms: number): Promise<Measured> {
  const headrace = await startHeadrace(port)
  try {
    return await watch([String(port), headrace.url, 'headrace'], alarms)
  } finally {
    await headrace.stop()
  }
}

async function watch(args: string[], alarms: number): Promise<Measured> {
  const watcher = startChild('watcher', args)
  try {
    await watcher.next('ready')
    await measure(watcher, WARM_UP)
    return await measure(watcher, alarms)
  } finally {
    await watcher.stop()
  }
}

function measure(watcher: Child, alarms: number): Promise<Measured> {
  const measured = watcher.next<Measured>('measured', MEASURE_LIMIT_MS)
  watcher.tell({ type: 'measure', alarms })
  return measured
}
