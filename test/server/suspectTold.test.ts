import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { createSite, type Site } from '../../simulator/site.ts'
import { type TestHeadrace, testHeadrace } from '../support/testHeadrace.ts'

/** The rig of the simulator, whose torque cell is made to read 3 % high: its own truth tells what is right. */
describe('an instrument that reads wrong at a plant that nobody looks at', () => {
  let headrace: TestHeadrace
  let site: Site

  beforeAll(async () => {
    site = createSite('quennerby', { seed: 5 })
    headrace = await testHeadrace({ plants: [site.plant], start: START, options: { publishFigures: false } })
  })
  afterAll(() => headrace.close())

  async function run(seconds: number): Promise<void> {
    for (let i = 0; i < seconds * 10; i++) {
      for (let step = 0; step < 5; step++) site.step(0.02)
      const now = headrace.clock.now() + 100
      for (const one of site.messages(now)) headrace.broker.deliver({ ...one, receivedAt: now })
      headrace.clock.advance(100)
      // what the page side asks of the watch is answered between two readings
      if (i % 10 === 0) await new Promise(setImmediate)
    }
  }

  const live = () => headrace.live('quennerby')
  const torque = () =>
    live().evaluator.view(live().plan.nodes.find((one) => one.description.id === 'torque')!.index)
  const efficiency = () =>
    live().evaluator.view(live().plan.nodes.find((one) => one.description.id === 'turbineEfficiency')!.index)
  const alarm = () =>
    live()
      .board.views()
      .find((one) => one.id === 'instrument-suspect')!

  it('is not accused while it is sound', async () => {
    await run(40)
    expect(torque()).toMatchObject({ quality: 'good', reasons: [] })
    expect(alarm().state).toBe('normal')
  }, 60_000)

  it('makes itself and all that hangs on it uncertain, and raises an alarm that says which', async () => {
    const instrument = site.plant.instruments.find((one) => one.quantity === 'torque')!
    site.command('fault', `${instrument.id}:gain`)
    await run(75)
    expect(torque().quality).toBe('uncertain')
    expect(torque().reasons.join()).toMatch(
      /under suspicion since \d\d:\d\d: .*[Ss]haft torque reads about 3(\.\d)? % high/,
    )
    expect(efficiency().reasons.join()).toMatch(/shaft torque: under suspicion since/)
    expect(alarm()).toMatchObject({ state: 'unacknowledged', active: true })
    expect(alarm().detail).toMatch(/[Ss]haft torque reads about 3(\.\d)? % high/)
    expect(alarm().detail).toMatch(/What hangs on it is uncertain: .*turbine efficiency/)
  }, 60_000)

  it('is the same on the page side', () => {
    const shown = headrace.pageSide.mirror.plants().get('quennerby')!
    const { index } = shown.plan.nodes.find((one) => one.description.id === 'torque')!
    expect(shown.evaluator.view(index).reasons).toEqual(torque().reasons)
    expect(shown.verdict()?.instruments).toEqual(['torque'])
  })

  it('is good again, and the alarm over, once it is mended', async () => {
    site.command('fault', 'none')
    await run(120)
    expect(torque()).toMatchObject({ quality: 'good', reasons: [] })
    expect(alarm().active).toBe(false)
  }, 60_000)
})

const START = 1_790_000_000_000
