import { afterAll, describe, expect, it } from 'vitest'
import type { TraceReply } from '../../server/wire/trace.ts'
import type { TraceRunReply } from '../../server/wire/trial.ts'
import { getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { fetchHere, type ServerProcess, startServer } from '../support/serverProcess.ts'

describe('traces that are recorded while the server is killed', () => {
  const scratch = scratchFolder()
  let server: ServerProcess
  const start = () => startServer(['--demo', '--data', scratch.path, '--http-port', '0', '--mqtt-port', '0'])
  const post = (path: string, body: object) =>
    fetchHere(`${server.url}/api/plants/${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    })
  const traces = async (plant: string, run: number) =>
    getJson<TraceRunReply>(`${server.url}/api/plants/${plant}/runs/${run}`)
  /** Times of the readings of one quantity [ms UTC]. */
  const times = async (plant: string, run: number, quantity: string) => {
    const reply = await getJson<TraceReply>(`${server.url}/api/plants/${plant}/runs/${run}/traces/1`)
    return reply.lines.find((line) => line.quantity === quantity)!.at.map((at) => reply.zeroAt + 1000 * at)
  }
  /** The last reading before the server was killed. */
  const lastBefore = (all: readonly number[], killed: number) =>
    Math.max(...all.filter((time) => time <= killed))

  afterAll(async () => {
    await server.stop()
    scratch.remove()
  })

  it('lose at most a second; one goes on with a gap, the other is closed and says why', async () => {
    server = await start()
    await post('quennerby/runs', { trial: 'batteryBalance', name: 'hour' })
    await post('ostrelby/runs', { trial: 'loadStep', name: 'step' })
    await until(
      () => traces('ostrelby', 2),
      ({ guidance }) => guidance!.state === 'armed',
      30_000,
    )
    await post('ostrelby/simulator/mill', { value: true })
    await until(
      () => traces('ostrelby', 2),
      ({ traces: [one] }) => (one?.readings ?? 0) > 130,
      30_000,
    )
    const [hour] = (await traces('quennerby', 1)).traces
    expect(hour).toMatchObject({ ending: 'recording' })
    await server.stop('SIGKILL')
    const killed = Date.now()

    server = await start()
    const [step] = (await traces('ostrelby', 2)).traces
    expect(step).toMatchObject({ ending: 'interrupted', verdict: 'rejected' })
    expect(step!.reason).toMatch(/started anew/)
    // the tachometer sends every 0.1 s; a second of readings may be lost, and the kill itself takes a moment
    expect(killed - lastBefore(await times('ostrelby', 2, 'speed'), killed)).toBeLessThan(1500)

    const more = await until(
      () => traces('quennerby', 1),
      ({ traces: [one] }) => one!.readings > hour!.readings + 20,
      30_000,
    )
    expect(more.traces).toHaveLength(1)
    expect(more.traces[0]).toMatchObject({ ending: 'recording', verdict: 'kept' })
    // battery readings come every 0.5 s
    expect(killed - lastBefore(await times('quennerby', 1, 'batteryCurrent'), killed)).toBeLessThan(2000)
  })
})
