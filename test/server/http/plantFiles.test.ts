import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { HealthReply } from '../../../server/wire/replies.ts'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { DEMO } from '../../support/testHeadrace.ts'

describe('a changed plant file that is refused', () => {
  let http: HttpBench

  beforeEach(async () => {
    http = await httpBench(DEMO)
  })
  afterEach(() => http.close())

  const refused = async () =>
    ((await (await http.ask('GET', '/api/health')).json()) as HealthReply).refusedFiles

  it('is told by the health of the server until one is taken over', async () => {
    expect(await refused()).toBeNull()
    http.headrace.watch.refusePlants(['mill.yaml:3: name: found nothing, expected string'])
    expect((await refused())?.at).toBe(http.headrace.clock.now())
    http.headrace.watch.replacePlants([...http.headrace.watch.plants.values()].map(({ plant }) => plant))
    expect(await refused()).toBeNull()
  })
})
