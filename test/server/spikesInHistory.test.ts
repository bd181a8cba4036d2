import { afterEach, describe, expect, it } from 'vitest'
import type { SampleBatch } from '../../server/history/store.ts'
import { memoryStore } from '../support/memoryHistory.ts'
import { plantOf } from '../support/plants.ts'
import { type TestHeadrace, testHeadrace } from '../support/testHeadrace.ts'

const PLANT = plantOf(`
instruments: [{ id: power, role: activePower, topic: mill/power, unit: kW, period: 1 s }]
`)
/** As history has it: 0 good, 1 uncertain, 2 bad, which is kept and stays out of every extreme. */
type Row = [kW: number, quality: number]

// What is checked is a rule of the house, no outside source.
describe('what history keeps of readings that jump', () => {
  let headrace: TestHeadrace
  const rows: Row[] = []
  afterEach(() => headrace.close())

  async function play(...readings: number[]): Promise<void> {
    rows.length = 0
    const store = memoryStore()
    const append = (batch: SampleBatch) => {
      batch.signals.forEach((signal, i) => {
        if (signal === 'mill/activePower') rows.push([batch.value[i]! / 1000, batch.quality[i]!])
      })
      store.append(batch)
    }
    headrace = await testHeadrace({ plants: [PLANT], history: { ...store, append } })
    for (const power of [...Array<number>(10).fill(30), ...readings]) {
      headrace.broker.deliver({
        topic: 'mill/power',
        payload: String(power),
        receivedAt: headrace.clock.now(),
      })
      headrace.clock.advance(1000)
    }
  }

  it('is the spike as bad, in its place', async () => {
    await play(39, 30, 30)
    expect(rows.slice(9)).toEqual([
      [30, 0],
      [39, 2],
      [30, 0],
      [30, 0],
    ])
  })

  it('is both readings of a step as good', async () => {
    await play(0, 0)
    expect(rows.slice(9)).toEqual([
      [30, 0],
      [0, 0],
      [0, 0],
    ])
  })

  it('is also the one that nothing confirmed before the plant files were read again', async () => {
    await play(0)
    expect(rows).toHaveLength(10)
    headrace.watch.replacePlants([PLANT])
    headrace.clock.advance(1000)
    expect(rows.slice(9)).toEqual([
      [30, 0],
      [0, 1],
    ])
  })
})
