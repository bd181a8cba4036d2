import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { createTrials, type Trials } from '../../../server/trials/trials.ts'
import type { PointRunReply } from '../../../server/wire/trial.ts'
import { type PlayedPlant, playPlant } from '../../support/playedPlant.ts'
import { openTrialBench, type TrialBench, taking } from '../../support/trialBench.ts'
import { trialThread } from '../../support/trialThread.ts'

describe('a run of points that was left open', () => {
  let played: PlayedPlant
  let bench: TrialBench
  let run: number

  beforeEach(() => {
    played = playPlant('quennerby', { seed: 5 })
    played.run(3)
    bench = openTrialBench(played.live, played.now)
    const started = bench.trials.start(played.live, { trial: 'efficiencyDischarge', name: 'Tuesday' }, 'Ada')
    if (!started.ok) throw new Error(started.error)
    run = started.value.run
  })
  afterEach(() => bench.close())

  const wait = (seconds: number, trials: Trials = bench.trials) => {
    for (let t = 0; t < seconds; t += 0.5) {
      played.run(0.5)
      trials.tick(played.now())
    }
  }
  const look = async (trials: Trials = bench.trials): Promise<PointRunReply> => {
    const found = await trials.run('quennerby', run)
    if (!found.ok) throw new Error(found.error)
    return taking('points', found.value)
  }

  it('rests when nobody has looked for ten minutes, and goes on when somebody says so', async () => {
    for (let sample = 0; sample <= 1200; sample++) bench.trials.tick(played.now())
    const { length } = bench.trials.underWay('quennerby')!.points
    played.site.command('jet-4', false)
    wait(40)
    expect((await look()).guidance).toMatchObject({
      state: 'resting',
      sentence: 'Nobody has looked at this run for 10 minutes. No point is taken until somebody goes on.',
    })
    expect((await look()).points).toHaveLength(length)
    expect(bench.trials.arm('quennerby', run, true).ok).toBe(true)
    wait(22)
    expect((await look()).points).toHaveLength(length + 1)
  })

  it('rests after the server was started anew, until somebody goes on', async () => {
    const plants = new Map([['quennerby', played.live]])
    const clock = { now: played.now, mono: played.now, every: () => () => {}, after: () => () => {} }
    const next = createTrials({ state: bench.state, clock, plants: () => plants, thread: trialThread })
    wait(30, next)
    const { points, guidance } = await look(next)
    expect(points).toEqual([])
    expect(guidance).toMatchObject({ state: 'resting' })
    expect(guidance!.sentence).toMatch(/^The server was started anew while this run was open\. No point/)
    next.arm('quennerby', run, true)
    wait(22, next)
    expect((await look(next)).points).toHaveLength(1)
  })
})
