import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { parseArgs } from 'node:util'
import type { HealthReply } from '../../server/wire/replies.ts'
import { getJson } from '../support/publisher.ts'
import { markdownTable, recordResults } from '../support/results.ts'
import { root } from '../support/root.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'
import { type Crowd, createCrowd } from './crowd.ts'
import { LIMITS, QUEUES } from './limits.ts'
import { footprintOf, processesOf } from './processes.ts'
import { type Slope, slopeOf } from './slope.ts'

const USAGE = `npm run soak -- [--hours N | --minutes N] [--seed S] [--record]
  --hours N, --minutes N  how long; by default 3 minutes
  --seed S                of what the people do, default 1
  --record                write the figures into test/RESULTS.md`

const SAMPLE_MS = 5000
const STEP_MS = 700
/** What is filled once, not leaked: the first part of the run is left out, so much of it and at least so long. */
const WARM_SHARE = 0.25
const WARM_MS = 60_000
const HOUR_MS = 3_600_000

type Series = Map<string, { hours: number[]; values: number[] }>

interface Finding {
  name: string
  slope: Slope
  from: number
  to: number
  limit: number
  isAbove: boolean
}

/** Runs the demo with people in front of it; returns the exit code, 1 where something grows beyond its limit. */
export async function runSoak(args: readonly string[]): Promise<number> {
  const asked = readArguments(args)
  if (!asked) {
    console.error(USAGE)
    return 1
  }
  const scratch = scratchFolder()
  const probes = join(scratch.path, 'probes')
  mkdirSync(probes)
  process.env['SOAK_FOLDER'] = probes
  process.env['NODE_OPTIONS'] = `--import ${pathToFileURL(join(root, 'test/soak/probe.mjs'))}`
  const server = await startServer([
    '--demo',
    '--data',
    join(scratch.path, 'data'),
    '--http-port',
    '0',
    '--mqtt-port',
    '0',
  ])
  delete process.env['NODE_OPTIONS']
  try {
    const crowd = createCrowd(server.url, asked.seed)
    const { series, queues, failures, restarts } = await watch({
      server,
      crowd,
      probes,
      lengthMs: asked.lengthMs,
    })
    const findings = judge(series, queues)
    const report = describe({ findings, crowd, failures, restarts, minutes: asked.lengthMs / 60_000 })
    console.log(report)
    if (asked.isRecorded) recordResults('soak', `npm run soak -- ${args.join(' ')}`, report)
    return findings.some(({ isAbove }) => isAbove) || restarts > 0 ? 1 : 0
  } finally {
    await server.stop()
    scratch.remove()
  }
}

interface Watching {
  server: ServerProcess
  crowd: Crowd
  probes: string
  lengthMs: number
}

/** Lets the people do one thing after the other, and takes a sample every five seconds once all is warm. */
async function watch({ server, crowd, probes, lengthMs }: Watching) {
  const begun = performance.now()
  const series: Series = new Map()
  const failures = new Map<string, number>()
  const queues = new Map<string, number>()
  const warmMs = Math.min(lengthMs / 2, Math.max(WARM_MS, lengthMs * WARM_SHARE))
  let restarts = 0
  let sampledAt = 0
  for (;;) {
    const passed = performance.now() - begun
    if (passed > lengthMs) break
    await crowd.step().catch((error: Error) => count(failures, error.message))
    if (passed > warmMs && passed - sampledAt > SAMPLE_MS) {
      sampledAt = passed
      const health = await getJson<HealthReply>(`${server.url}/api/health`)
      restarts = health.pageRestarts
      for (const { name, limit } of health.queues) queues.set(queueName(name), limit)
      take(series, passed / HOUR_MS, sampleOf(server.process.pid!, probes, health))
    }
    await new Promise((resolve) => setTimeout(resolve, STEP_MS))
  }
  crowd.leave()
  return { series, queues, failures, restarts }
}

function sampleOf(pid: number, probes: string, { queues }: HealthReply): Record<string, number> {
  const { watch: watchPid, page } = processesOf(pid)
  const sample: Record<string, number> = {}
  for (const [name, one] of [
    ['watch', watchPid],
    ['page', page],
  ] as const) {
    const footprint = one === undefined ? undefined : footprintOf(one, probes)
    if (!footprint) continue
    sample[`${name} RSS`] = footprint.rssMb
    sample[`${name} descriptors`] = footprint.descriptors
    if (footprint.heapMb !== undefined) sample[`${name} heap`] = footprint.heapMb
    if (footprint.externalMb !== undefined) sample[`${name} external`] = footprint.externalMb
    if (footprint.handles !== undefined) sample[`${name} handles`] = footprint.handles
  }
  for (const queue of queues) sample[queueName(queue.name)] = queue.length
  return sample
}

const queueName = (name: string) => `queue: ${name}`

function take(series: Series, hours: number, sample: Record<string, number>): void {
  for (const [name, value] of Object.entries(sample)) {
    const one = series.get(name) ?? { hours: [], values: [] }
    series.set(name, one)
    one.hours.push(hours)
    one.values.push(value)
  }
}

function judge(series: Series, queues: ReadonlyMap<string, number>): Finding[] {
  return [...series].flatMap(([name, { hours, values }]) => {
    const slope = slopeOf(hours, values)
    if (!slope) return []
    const own = LIMITS.find((one) => one.name === name)
    const limit = own?.perHour ?? QUEUES.perHour
    const worth = own?.worth ?? QUEUES.worthShare * (queues.get(name) ?? 0)
    const rise = slope.perHour * (hours.at(-1)! - hours[0]!)
    const isAbove = slope.perHour - slope.plusMinus > limit && rise > worth
    return [{ name, slope, from: values[0]!, to: values.at(-1)!, limit, isAbove }]
  })
}

interface Outcome {
  findings: readonly Finding[]
  crowd: Crowd
  failures: ReadonlyMap<string, number>
  restarts: number
  minutes: number
}

function describe({ findings, crowd, failures, restarts, minutes }: Outcome): string {
  const moving = findings.filter(
    ({ name, from, to, slope }) => !name.startsWith('queue') || from + to + slope.plusMinus > 0,
  )
  const rows = moving.map(({ name, slope, from, to, limit, isAbove }) => [
    name,
    `${from.toFixed(1)} → ${to.toFixed(1)}`,
    `${slope.perHour.toFixed(1)} ± ${slope.plusMinus.toFixed(1)}`,
    `${limit}${isAbove ? ' **above**' : ''}`,
  ])
  const deeds = Object.entries(crowd.counts).map(([name, count]) => `${name} ${count}`)
  const refused = [...failures].map(([what, count]) => `${count} × ${what}`)
  return [
    `${minutes.toFixed(0)} minutes; what people did: ${deeds.join(', ')}. Page side restarted ${restarts} times.`,
    `Not as expected: ${refused.join('; ') || 'nothing'}.`,
    '',
    markdownTable(
      [
        'what (heap, external: MB after a collection; RSS: MB)',
        'first → last',
        'slope per hour, 95 %',
        'limit per hour',
      ],
      rows,
    ),
    '',
    `${findings.length - moving.length} queues were empty all the time. The run fails where the whole interval lies above the limit and the rise is worth speaking of (test/soak/limits.ts), or the page side ended.`,
  ].join('\n')
}

function count(counts: Map<string, number>, what: string): void {
  counts.set(what, (counts.get(what) ?? 0) + 1)
}

function readArguments(args: readonly string[]) {
  try {
    const { values } = parseArgs({
      args: [...args],
      options: {
        hours: { type: 'string' },
        minutes: { type: 'string' },
        seed: { type: 'string', default: '1' },
        record: { type: 'boolean', default: false },
      },
    })
    const lengthMs = values.hours ? Number(values.hours) * HOUR_MS : Number(values.minutes ?? 3) * 60_000
    const seed = Number(values.seed)
    if (!(lengthMs >= 60_000) || !Number.isInteger(seed)) return undefined
    return { lengthMs, seed, isRecorded: values.record }
  } catch {
    return undefined
  }
}
