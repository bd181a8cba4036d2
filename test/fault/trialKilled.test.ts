import { afterAll, describe, expect, it } from 'vitest'
import type { PointRunReply } from '../../server/wire/trial.ts'
import { getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { fetchHere, type ServerProcess, startServer } from '../support/serverProcess.ts'

describe('a run under way while the server is killed', () => {
  const scratch = scratchFolder()
  let server: ServerProcess
  const start = () => startServer(['--demo', '--data', scratch.path, '--http-port', '0', '--mqtt-port', '0'])
  const run = () => getJson<PointRunReply>(`${server.url}/api/plants/quennerby/runs/1`)
  const points = (count: number) => until(run, (reply) => reply.points.length >= count, 60_000)

  afterAll(async () => {
    await server.stop()
    scratch.remove()
  })

  it('keeps its points, rests after the restart, and goes on taking them when somebody says so', async () => {
    server = await start()
    const response = await fetchHere(`${server.url}/api/plants/quennerby/runs`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ trial: 'efficiencyDischarge', name: 'interrupted' }),
    })
    expect(await response.json()).toEqual({ run: 1 })
    const before = await points(1)
    await server.stop('SIGKILL')

    server = await start()
    const after = await run()
    expect(after.points).toEqual(before.points)
    expect(after.run).toMatchObject({ name: 'interrupted', finishedAt: null })
    expect(after.guidance).toMatchObject({ state: 'resting' })
    const armed = await fetchHere(`${server.url}/api/plants/quennerby/runs/1/arm`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ armed: true }),
    })
    expect(armed.status).toBe(200)
    // a command is heard only once the simulator is there
    await until(run, (reply) => reply.guidance!.abscissa !== null, 30_000)
    // the simulator began anew with the same four jets: the state is recognised, one with three jets is new
    await fetchHere(`${server.url}/api/plants/quennerby/simulator/jet-4`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ value: false }),
    })
    const later = await points(2)
    expect(later.points[1]).toMatchObject({ number: 2, setting: expect.stringMatching(/^jets 1, 2, 3 /) })
  })
})
