import mqtt from 'mqtt'
import { afterAll, describe, expect, it } from 'vitest'
import type { HealthReply } from '../../server/wire/replies.ts'
import { THREE_SENSORS } from '../support/plants.ts'
import { getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'

/** As long as a password that the broker inside takes. */
const PASSWORD = 'a-secret-of-the-broker'

describe('the log of a built server', () => {
  const scratch = scratchFolder()
  const plant = scratch.file('mill.yaml', THREE_SENSORS)
  afterAll(() => scratch.remove())

  const start = (name: string, args: string[]) =>
    startServer(['--data', `${scratch.path}/${name}`, '--http-port', '0', '--mqtt-port', '0', ...args])
  const lines = ({ output }: ServerProcess) => output().trim().split('\n')

  it('is JSON from the first line to the last where it is asked for, of both processes and the simulator', async () => {
    const server = await start('json', ['--log', 'json', '--demo'])
    await until(
      async () => server.output(),
      (text) => text.includes('simulator: Plays'),
    )
    server.process.kill('SIGTERM')
    await server.stop()
    const entries = lines(server).map(
      (line) => JSON.parse(line) as { process: string; msg: string; level: string },
    )
    expect([...new Set(entries.map((one) => one.process))].toSorted()).toEqual(['page side', 'watch'])
    for (const words of [/^Headrace is at http:/, /^Set-up code \S+:/, /\/enter\/[\w-]+$/])
      expect(
        entries.filter((one) => one.level === 'info' && words.test(one.msg)).length,
        `${words}`,
      ).toBeGreaterThan(0)
  })

  it('is text for people by default, in which nothing from the network begins a line, steers the terminal or comes without end', async () => {
    const account = ['--mqtt-user', 'mill', '--mqtt-password', PASSWORD]
    const server = await start('text', ['--plant', plant, ...account])
    const { source } = await getJson<HealthReply>(`${server.url}/api/health`)
    const port = /:(\d+)$/.exec(source.name)![1]!
    const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${port}`, {
      username: 'mill',
      password: PASSWORD,
    })
    client.publish('x\nSet-up code FAKE\u001b[2J', Buffer.alloc(100_000))
    await until(
      async () => server.output(),
      (text) => text.includes('was refused'),
    )
    client.end(true)
    const before = lines(server).length
    for (let i = 0; i < 50; i++) expect((await fetch(`${server.url}/socket.io/?EIO=${i}`)).status).toBe(404)
    expect(lines(server).length).toBe(before)
    await server.stop()
    for (const line of lines(server))
      expect(line).toMatch(/^\d{4}-\d\d-\d\dT[\d:.]+Z (?:info|warn|error) +\S/)
    expect(server.output()).toContain('x\\u{a}Set-up code FAKE\\u{1b}[2J')
    expect(server.output()).not.toContain('\u001b')
    expect(server.output()).not.toContain(PASSWORD)
  })
})
