import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { readMeans } from '../../../server/trials/typed/simpleMeans.ts'
import type { PointRunReply } from '../../../server/wire/trial.ts'
import { type PlayedPlant, playPlant } from '../../support/playedPlant.ts'
import { openTrialBench, type TrialBench, taking } from '../../support/trialBench.ts'

describe('a trial at a rig without a torque cell', () => {
  let played: PlayedPlant
  let bench: TrialBench
  let run: number
  beforeEach(() => {
    played = playPlant('quennerby', { seed: 5 }, { messageMs: 20, tickMs: 200, without: ['torque'] })
    played.run(3)
    bench = openTrialBench(played.live, played.now)
    const started = bench.trials.start(
      played.live,
      { trial: 'efficiencyDischarge', name: 'Brake', typed: 'torque' },
      'me',
    )
    if (!started.ok) throw new Error(started.error)
    run = started.value.run
  })
  afterEach(() => bench.close())

  const wait = (seconds: number) => {
    for (let t = 0; t < seconds; t += 0.5) {
      played.run(0.5)
      bench.trials.tick(played.now())
    }
  }
  const reply = async (): Promise<PointRunReply> => {
    const found = await bench.trials.run('quennerby', run)
    if (!found.ok) throw new Error(found.error)
    return taking('points', found.value)
  }
  /** 37.75 N on an arm of 0.1 m: the 3.775 N·m of the design sheet at four jets, each read to 1 %. */
  const brake = {
    by: 'Ada',
    isPresent: true,
    figures: [],
    reading: {
      figure: 'torque',
      means: 'springBalance' as const,
      first: { value: 37.75, unit: 'N', u: 0.3775 },
      second: { value: 0.1, unit: 'm', u: 0.001 },
    },
  }

  it('can be started, and says what is to be typed and with what it may be read', async () => {
    const { trial } = await reply()
    expect(trial.lacking).toEqual([])
    expect(trial.typed).toEqual([{ figure: 'torque', name: 'Shaft torque', means: ['springBalance'] }])
  })

  it('asks for the value once everything else is steady, and stores nothing by itself', async () => {
    wait(30)
    const { guidance, points } = await reply()
    expect(guidance).toMatchObject({
      state: 'typing',
      sentence: 'Steady. Read shaft torque now and type it.',
    })
    expect(points).toEqual([])
  })

  it('refuses a value typed before the state is steady', () => {
    wait(5)
    expect(bench.trials.enter('quennerby', run, brake)).toMatchObject({
      status: 409,
      error: expect.stringMatching(/^Not stored\. Steady so far/),
    })
  })

  it('makes shaft power and efficiency from the typed torque and the averages of the rest', async () => {
    wait(30)
    expect(bench.trials.enter('quennerby', run, brake)).toEqual({ ok: true, value: { number: 1 } })
    const { points, guidance } = await reply()
    const figure = (id: string) => points[0]!.figures.find((one) => one.id === id)!
    expect(points[0]).toMatchObject({ origin: 'combined', by: 'Ada', samples: 40 })
    expect(guidance!.state).toBe('captured')
    expect(figure('torque').mean).toBeCloseTo(3.775, 12)
    // design sheet of the rig: 593 W, 0.70; the meters of the seed are off by a few tenths of a per cent
    expect(figure('shaftPower').mean / 593).toBeCloseTo(1, 2)
    expect(Math.abs(figure('turbineEfficiency').mean - 0.7)).toBeLessThan(figure('turbineEfficiency').u95)
    // by hand: √2 % of the torque is 1.41 %; flow and head add about 0.4 %: U is 2 × 1.47 % of 0.70 = 0.0206
    expect(
      figure('turbineEfficiency').contributions['by hand: torque']! / figure('turbineEfficiency').mean,
    ).toBeCloseTo(0.01414, 3)
    expect(figure('turbineEfficiency').u95).toBeGreaterThan(0.0194)
    expect(figure('turbineEfficiency').u95).toBeLessThan(0.023)
    expect(figure('turbineEfficiency').typeA).toBeGreaterThan(0)
    expect(figure('discharge').effectiveCount).toBeGreaterThan(1)
  })

  it('refuses to have something typed that is measured', () => {
    bench.trials.finish('quennerby', run)
    const wish = { trial: 'efficiencyDischarge', name: 'x', typed: 'discharge' }
    expect(bench.trials.start(played.live, wish, 'me')).toMatchObject({ status: 400 })
  })

  it('offers to type what is only estimated, and does not insist', () => {
    const { trials } = bench.trials.list(played.live)
    const torque = taking('points', trials.find((one) => one.id === 'efficiencyDischarge')!)
    expect(torque.typeable).toEqual([{ figure: 'torque', name: 'Shaft torque' }])
    expect(torque.typed).toEqual([])
  })

  it('refuses another figure than the one that is missing, with what it expected', () => {
    wait(30)
    const wrong = { by: 'Ada', isPresent: true, figures: [{ figure: 'discharge', value: 3.6, unit: 'L/s' }] }
    expect(bench.trials.enter('quennerby', run, wrong)).toMatchObject({
      status: 400,
      faults: [{ path: 'figures', received: 'discharge', expected: 'a value of torque' }],
    })
  })
})

describe('simple means', () => {
  it('make 2.500 L/s with 2.5495 % of a bucket of 20.0 L in 8.00 s, u 0.1 L and 0.2 s (references 7.9)', () => {
    const read = readMeans(
      {
        means: 'bucket',
        first: { value: 20, unit: 'L', u: 0.1 },
        second: { value: 8, unit: 's', u: 0.2 },
      },
      'reading',
    )
    if ('fault' in read) throw new Error(read.fault.expected)
    expect(read.value).toBeCloseTo(2.5e-3, 12)
    expect(read.u / read.value).toBeCloseTo(0.0254951, 7)
  })

  it('refuse a time of zero and a unit of another kind, and say what was expected', () => {
    const bucket = (value: number, unit: string) =>
      readMeans({ means: 'bucket', first: { value: 20, unit: 'L' }, second: { value, unit } }, 'reading')
    expect(bucket(0, 's')).toMatchObject({ fault: { path: 'reading.second', received: '0 s' } })
    expect(bucket(8, 'bar')).toMatchObject({
      fault: { received: '8 bar', expected: expect.stringMatching(/time/) },
    })
  })
})
