import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { HealthReply } from '../../server/wire/replies.ts'
import { THREE_SENSORS } from '../support/plants.ts'
import { connectPublisher, getJson, until } from '../support/publisher.ts'
import { root } from '../support/root.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'

describe('a built server', () => {
  const scratch = scratchFolder()
  let server: ServerProcess

  beforeAll(async () => {
    const plant = scratch.file('mill.yaml', THREE_SENSORS)
    const ports = ['--http-port', '0', '--mqtt-port', '0']
    server = await startServer(['--plant', plant, '--data', `${scratch.path}/data`, ...ports])
  })
  afterAll(async () => {
    await server.stop()
    scratch.remove()
  })

  it('shows a figure that a client of MQTT sent, and stores what it counted', async () => {
    const { source } = await getJson<HealthReply>(`${server.url}/api/health`)
    const client = await connectPublisher(`mqtt://127.0.0.1:${/:(\d+)$/.exec(source.name)![1]}`)
    await client.publishAsync('mill/power', '2.5', { qos: 1 })
    const live = await until(
      () => getJson<{ values: { value: number | null }[] }>(`${server.url}/api/plants/mill/live`),
      ({ values }) => values.some(({ value }) => value === 2500),
    )
    expect(live.values.filter(({ value }) => value === 2500).length).toBeGreaterThan(0)
    await client.endAsync()
  })

  it('hands the licences of all that is in the page out to whoever asks', async () => {
    const reply = await fetch(`${server.url}/notices.txt`, { headers: { 'accept-encoding': 'br' } })
    expect(reply.headers.get('content-type')).toMatch(/^text\/plain/)
    expect(reply.headers.get('content-encoding')).toBe('br')
    const text = await reply.text()
    const bundled = JSON.parse(readFileSync(join(root, 'dist/web/.vite/bundled.json'), 'utf8')) as {
      name: string
      version: string
    }[]
    expect(bundled.length).toBeGreaterThan(4)
    expect(bundled.filter(({ name, version }) => !text.includes(`${name} ${version} · `))).toEqual([])
  })

  it('comes with a list of what is in it, and shows no file that begins with a dot', async () => {
    const bom = JSON.parse(readFileSync(join(root, 'dist/sbom.json'), 'utf8')) as {
      components: { name: string }[]
    }
    expect(bom.components.map(({ name }) => name)).toEqual(
      expect.arrayContaining(['express', 'preact', 'yaml']),
    )
    expect((await fetch(`${server.url}/.vite/bundled.json`)).status).toBe(404)
  })
})
