import { type HealthReply, healthReply } from '../wire/replies.ts'
import { knowsPeople, withoutPayloads } from './discretion.ts'
import { given } from './errors.ts'
import { get, type RouteContext } from './route.ts'

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
  get('read', '/metrics', {
    summary: 'The same numbers as open-metrics text',
    reply: { media: 'text/plain; version=0.0.4' },
    handle: async (context) => ({ content: printMetrics(await healthOf(context)) }),
  }),
]

async function healthOf({ health, trials, replays, lessons }: RouteContext): Promise<HealthReply> {
  const reply = given(await health())
  return { ...reply, queues: [...reply.queues, trials.queue(), replays.queue(), lessons.queue()] }
}

/** Source: the open-metrics text exposition format. */
export function printMetrics(health: HealthReply): string {
  const lines = [
    ...metric('headrace_up', 'gauge', [['', 1]]),
    ...metric('headrace_source_connected', 'gauge', [['', Number(health.source.connected)]]),
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
