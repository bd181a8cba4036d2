import { connect, type Socket } from 'node:net'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { PlantSummary } from '../../server/wire/plant.ts'
import type { HealthReply } from '../../server/wire/replies.ts'
import { THREE_SENSORS } from '../support/plants.ts'
import { getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { type ServerProcess, startServer } from '../support/serverProcess.ts'

const CONNECTIONS = 100
/** Time for headers, for a whole request and for silence, as server/http/admission.ts has them, and what a check of them may add [ms]. */
const HEADERS_MS = 10_000
const REQUEST_MS = 15_000
const SILENCE_MS = 30_000
const CHECK_MS = 7000

const HEAD = 'Host: 127.0.0.1\r\n'
const BODY = 'Content-Type: application/json\r\nContent-Length: 1000\r\n\r\n{"name":'

// What is checked are rules of the house: who is slow is cut off, and holds up nobody; no outside source.
describe('a hundred slow clients of the page', () => {
  const scratch = scratchFolder()
  const sockets = new Set<Socket>()
  let server: ServerProcess

  beforeAll(async () => {
    const plant = scratch.file('mill.yaml', THREE_SENSORS)
    server = await startServer([
      '--plant',
      plant,
      '--data',
      scratch.path,
      '--http-port',
      '0',
      '--mqtt-port',
      '0',
    ])
  })
  afterAll(async () => {
    for (const socket of sockets) socket.destroy()
    await server.stop()
    scratch.remove()
  })

  /** Opens them; `read: false` takes no byte of an answer. */
  function open(text: string, { dribble = '', read = true } = {}): void {
    const { port, hostname } = new URL(server.url)
    for (let i = 0; i < CONNECTIONS; i++) {
      const socket = connect(Number(port), hostname)
      sockets.add(socket)
      socket.on('error', () => {})
      socket.on('close', () => sockets.delete(socket))
      if (read) socket.resume()
      socket.write(text)
      if (dribble === '') continue
      const timer = setInterval(() => socket.write(dribble), 1000)
      socket.on('close', () => clearInterval(timer))
    }
  }

  /** As the server counts them. */
  const connections = async () =>
    (await getJson<HealthReply>(`${server.url}/api/health`)).queues.find(
      ({ name }) => name === 'connections of the page',
    )!.length

  it.each([
    [
      'whose headers come letter by letter',
      `GET /api/plants HTTP/1.1\r\n${HEAD}X-Slow: `,
      { dribble: 'x' },
      HEADERS_MS,
    ],
    [
      'whose body comes letter by letter',
      `POST /api/session HTTP/1.1\r\n${HEAD}${BODY}`,
      { dribble: 'x' },
      REQUEST_MS,
    ],
    ['that say nothing at all', '', {}, SILENCE_MS],
  ])(
    '%s are cut off, and others are answered meanwhile',
    async (_, text, how, limitMs) => {
      open(text, how)
      for (let i = 0; i < 10; i++) {
        const asked = performance.now()
        expect(await getJson<PlantSummary[]>(`${server.url}/api/plants`)).toHaveLength(1)
        // Whoever waited for them would wait until they are cut off.
        expect(performance.now() - asked).toBeLessThan(limitMs / 2)
        await new Promise((resolve) => setTimeout(resolve, 100))
      }
      await until(
        async () => sockets.size,
        (left) => left === 0,
        limitMs + CHECK_MS,
      )
    },
    100_000,
  )

  it('that take no byte of an answer hold up nobody, and are cut off', async () => {
    open(`GET /api/openapi.json HTTP/1.1\r\n${HEAD}\r\n`, { read: false })
    // On a busy machine the first are over before the last have come.
    await until(connections, (count) => count >= CONNECTIONS / 2)
    const asked = performance.now()
    expect(await getJson<PlantSummary[]>(`${server.url}/api/plants`)).toHaveLength(1)
    expect(performance.now() - asked).toBeLessThan(SILENCE_MS / 2)
    await until(connections, (count) => count < 5, SILENCE_MS + CHECK_MS)
  }, 60_000)
})
