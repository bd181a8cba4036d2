import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { HealthReply } from '../../server/wire/replies.ts'
import { fetchHere, startServer } from '../support/serverProcess.ts'
import { benchPlant } from './plantFile.ts'

/** The built server with the bench plant. */
export interface Headrace {
  url: string
  pid: number | undefined
  health(): Promise<HealthReply>
  stop(): Promise<void>
}

/** Over-speed to a webhook, and its end. */
const notifyFile = (hookUrl: string) => `headraceNotify: 1
timeZone: UTC
channels: [{ id: hook, kind: webhook, url: "${hookUrl}" }]
recipients: [{ id: desk, name: Desk, by: [{ channel: hook }] }]
rules: [{ to: [desk], priorities: [high] }]
`

/** Options for a broker that is there already on this machine. */
export function externalBroker(port: number): string[] {
  return ['--mqtt-url', `mqtt://127.0.0.1:${port}`]
}

/**
 * @param source Options that say where readings come from.
 * @param hookUrl Where alarm messages go; left out, nobody is told.
 */
export async function startHeadrace(source: readonly string[], hookUrl?: string): Promise<Headrace> {
  const folder = mkdtempSync(join(tmpdir(), 'headrace-bench-'))
  // also where the server does not start at all
  process.once('exit', () => rmSync(folder, { recursive: true, force: true }))
  const plant = join(folder, 'bench.yaml')
  writeFileSync(plant, benchPlant())
  const options = ['--plant', plant, ...source, '--http-port', '0', '--open-reading']
  if (hookUrl) {
    const notify = join(folder, 'notify.yaml')
    writeFileSync(notify, notifyFile(hookUrl))
    options.push('--notify', notify)
    process.env['HEADRACE_NOTIFY_SECRET_HOOK'] = `whsec_${Buffer.alloc(24, 1).toString('base64')}`
  }
  const server = await startServer([...options, '--data', join(folder, 'data')])
  const health = async () => (await (await fetchHere(`${server.url}/api/health`)).json()) as HealthReply
  process.once('exit', () => server.process.kill('SIGKILL'))
  await until(async () => (await health()).source.connected, { what: 'Headrace is connected to the broker' })
  return {
    url: server.url,
    pid: server.process.pid,
    health,
    stop: async () => {
      await server.stop()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

/** Asks again every `stepMs` until the answer is true. */
export async function until(
  isSo: () => Promise<boolean>,
  { what, stepMs = 25, limitMs = 20_000 }: { what: string; stepMs?: number; limitMs?: number },
): Promise<void> {
  const end = performance.now() + limitMs
  while (!(await isSo())) {
    if (performance.now() > end) throw new Error(`after ${limitMs / 1000} s it was still not so that ${what}`)
    await new Promise((resolve) => setTimeout(resolve, stepMs))
  }
}
