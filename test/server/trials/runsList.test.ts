import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type PlayedPlant, playPlant } from '../../support/playedPlant.ts'
import { openTrialBench, type TrialBench } from '../../support/trialBench.ts'

describe('the list of saved runs', () => {
  let played: PlayedPlant
  let bench: TrialBench

  beforeEach(() => {
    played = playPlant('quennerby', { seed: 5 })
    bench = openTrialBench(played.live, played.now)
  })
  afterEach(() => bench.close())

  function save(trial: string, names: { className?: string; group?: string; year?: string }): number {
    const started = bench.trials.start(played.live, { trial, name: 'x', ...names }, 'me')
    if (!started.ok) throw new Error(started.error)
    bench.trials.finish('quennerby', started.value.run)
    return started.value.run
  }

  it('reaches every run, a page of 50 at a time, newest first', () => {
    for (let i = 0; i < 120; i++) save('nozzleLaw', {})
    const numbers: number[] = []
    let before: number | null | undefined
    while (before !== null) {
      const page = bench.trials.runs('quennerby', before === undefined ? {} : { before })
      expect(page.total).toBe(120)
      numbers.push(...page.runs.map((run) => run.id))
      before = page.before
    }
    expect(numbers).toEqual(Array.from({ length: 120 }, (_, i) => 120 - i))
  })

  it('finds the oldest run of a trial, however many of others followed', () => {
    const oldest = save('runDown', {})
    for (let i = 0; i < 201; i++) save('nozzleLaw', {})
    expect(bench.trials.runs('quennerby', { trial: 'runDown' }).runs.map((run) => run.id)).toEqual([oldest])
  })

  it('holds only what is asked for by trial, class, group and year together', () => {
    const wanted = save('nozzleLaw', { className: '2a', group: 'B', year: '2026' })
    save('pumpCurve', { className: '2a', group: 'B', year: '2026' })
    save('nozzleLaw', { className: '2b', group: 'B', year: '2026' })
    save('nozzleLaw', { className: '2a', group: 'A', year: '2026' })
    save('nozzleLaw', { className: '2a', group: 'B', year: '2025' })
    const wish = { trial: 'nozzleLaw', className: '2a', group: 'B', year: '2026' }
    const { runs, total } = bench.trials.runs('quennerby', wish)
    expect(runs.map((run) => run.id)).toEqual([wanted])
    expect(total).toBe(1)
    expect(bench.trials.runs('quennerby', { className: "2a' OR 1=1 --" }).runs).toEqual([])
  })

  it('names what there is to choose from, without empty names, years newest first', () => {
    save('nozzleLaw', { className: '2b', year: '2025' })
    save('nozzleLaw', { className: '2a', group: 'A', year: '2026' })
    save('pumpCurve', {})
    expect(bench.trials.runs('quennerby', {}).choices).toEqual({
      trials: [
        { id: 'nozzleLaw', name: 'Nozzles: discharge over head' },
        { id: 'pumpCurve', name: 'Pump: head over discharge' },
      ],
      classes: ['2a', '2b'],
      groups: ['A'],
      years: ['2026', '2025'],
    })
  })

  it('shows no runs of another plant', () => {
    save('nozzleLaw', {})
    expect(bench.trials.runs('skelderwath', {})).toMatchObject({ runs: [], total: 0, before: null })
  })
})
