import { describe, expect, it } from 'vitest'
import { alarmBench } from '../../../support/alarmBench.ts'

const ALARM =
  '  - { id: suspect, name: Instrument suspect, kind: suspectInstrument, onDelay: 1 min, priority: medium }'
const TACHO = { instruments: ['tacho'], sentence: 'Speed reads about 3 % high.', since: 0 }

describe('the kind suspectInstrument', () => {
  it('is raised when an instrument has been suspected for its delay, and says which', () => {
    const bench = alarmBench(ALARM)
    bench.tick(1000)
    bench.accuse(TACHO)
    bench.tick(1000)
    expect(bench.alarm('suspect').active).toBe(false)
    bench.tick(61_000)
    expect(bench.alarm('suspect')).toMatchObject({ active: true, detail: 'Speed reads about 3 % high.' })
  })

  it('returns when nobody is suspected any more', () => {
    const bench = alarmBench(ALARM)
    bench.accuse(TACHO)
    bench.tick(1000)
    bench.tick(61_000)
    bench.accuse(undefined)
    bench.tick(1000)
    expect(bench.alarm('suspect').state).toBe('returnedUnacknowledged')
  })
})
