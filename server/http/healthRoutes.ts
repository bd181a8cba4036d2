import { readVisitor } from '../access/visitor.ts'
import { type HealthReply, healthReply } from '../wire/replies.ts'
import { knowsPeople, withoutPayloads } from './discretion.ts'
import { given, HttpFault } from './errors.ts'
import { get, OK, type RouteContext } from './route.ts'

/** How the server itself is: for people, for probes and for programs that scrape. */
export const healthRoutes = [
  get('read', '/api/health', {
    summary: 'Rates, queues, faults by topic, memory',
    reply: healthReply,
    async handle(context, { request }) {
      const reply = await healthOf(context)
      return knowsPeople(context.access, request) ? reply : withoutPayloads(reply)
    },
  }),
  get('open', '/api/health/probe', {
    summary:
      'For what supervises the server on this machine, and who may read: 200, or 503 with what is wrong',
    reply: OK,
    async handle(context, { request }) {
      const { access } = context
      if (!readVisitor(request).isThisMachine && !access.may(request, 'read'))
        throw new HttpFault(401, { error: 'Sign in first, or ask from the machine of the server.' })
      const { flow } = await healthOf(context)
      if (!flow.ok) throw new HttpFault(503, { error: flow.reasons.join(' ') })
      return { ok: true } as const
    },
  }),
  get('read', '/metrics', {
    summary: 'The same numbers as open-metrics text',
    reply: { media: 'text/plain; version=0.0.4' },
    handle: async (context) => ({ content: printMetrics(await healthOf(context)) }),
  }),
]

async function healthOf({ health, trials, replays, lessons }: RouteContext): Promise<HealthReply> {
  const reply = given(await health())
  return { ...reply, queues: [...reply.queues, ...trials.queues(), replays.queue(), ...lessons.queues()] }
}

/** Source: the open-metrics text exposition format. */
export function printMetrics(health: HealthReply): string {
  const lines = [
    ...metric('headrace_up', 'gauge', [['', 1]]),
    ...metric('headrace_source_connected', 'gauge', [['', Number(health.source.connected)]]),
    ...metric('headrace_data_flowing', 'gauge', [['', Number(health.flow.ok)]]),
    ...metric('headrace_storing', 'gauge', [['', Number(health.storing.ok)]]),
    ...metric('headrace_event_loop_delay_p99_seconds', 'gauge', [['', health.eventLoopDelayP99Ms / 1000]]),
    ...metric('headrace_memory_rss_bytes', 'gauge', [['', health.memoryRssBytes]]),
    ...metric(
      'headrace_stage_total',
      'counter',
      health.stages.map((one) => [label('stage', one.name), one.total]),
    ),
    ...metric(
      'headrace_stage_faults_total',
      'counter',
      health.stages.map((one) => [label('stage', one.name), one.faults]),
    ),
    ...metric(
      'headrace_queue_length',
      'gauge',
      health.queues.map((one) => [label('queue', one.name), one.length]),
    ),
    ...metric(
      'headrace_queue_limit',
      'gauge',
      health.queues.map((one) => [label('queue', one.name), one.limit]),
    ),
    ...metric(
      'headrace_queue_dropped_total',
      'counter',
      health.queues.map((one) => [label('queue', one.name), one.dropped]),
    ),
  ]
  return `${lines.join('\n')}\n`
}

function metric(name: string, type: string, samples: [labels: string, value: number][]): string[] {
  return [`# TYPE ${name} ${type}`, ...samples.map(([labels, value]) => `${name}${labels} ${value}`)]
}

function label(key: string, value: string): string {
  return `{${key}="${value.replaceAll('\\', '\\\\').replaceAll('"', '\\"').replaceAll('\n', '\\n')}"}`
}
