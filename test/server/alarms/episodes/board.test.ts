import { describe, expect, it } from 'vitest'
import { episodesOf } from '../../../../server/wire/episode.ts'
import { type AlarmBench, alarmBench, memoryJournal, perMinute } from '../../../support/alarmBench.ts'

const SPEEDS = `
  - { id: over120, name: Over 120, kind: overSpeed, figure: speed, limit: 120 % of rated, priority: high, latching: true }
  - { id: over110, name: Over 110, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: medium }`
const GRID = `
  - { id: grid, name: Grid lost, kind: state, figure: gridConnected, is: "off", onDelay: 1 s, priority: low }`
const LEVEL = `
  - { id: level, name: Forebay low, kind: low, figure: headwaterLevel, limit: 0.8 m, priority: low }`
const CONTACT = '- { id: grid, role: gridConnected, topic: mill/grid, unit: "1", periodic: false }'
const SLOW_CONTACT =
  '- { id: grid, role: gridConnected, topic: mill/grid, unit: "1", period: 10 s, staleAfter: 30 s }'
const GAUGE = '- { id: level, role: headwaterLevel, topic: mill/level, unit: m }'

function episodes(bench: AlarmBench) {
  return episodesOf(bench.board.views()).map(({ headline, alarms }) => [headline, alarms])
}

/** The grid opens and the machine speeds up; the alarm on the contact waits for its second. */
function loseGrid(bench: AlarmBench): void {
  bench.read('gridConnected', 1)
  bench.read('speed', perMinute(1500))
  bench.tick(200)
  bench.read('gridConnected', 0)
  speedUp(bench)
}

function speedUp(bench: AlarmBench): void {
  for (const speed of [1520, 1540, 1560, 1580, 1600, 1630, 1700, 1810]) {
    bench.tick(200)
    bench.read('speed', perMinute(speed))
  }
}

describe('episodes of the board', () => {
  it('name the lost grid first though its alarm was delayed, and fold the over-speed below it', () => {
    const bench = alarmBench(SPEEDS + GRID, memoryJournal(), CONTACT)
    loseGrid(bench)
    expect(episodes(bench)).toEqual([['Grid lost', ['grid', 'over110', 'over120']]])
    expect(bench.alarm('over120')).toMatchObject({
      after: 'grid',
      because: 'a machine without its load speeds up',
    })
    expect(bench.journal.entries.map(({ episode }) => episode)).toEqual(
      Array(3).fill(bench.alarm('grid').episode),
    )
  })

  it('say that the first cannot be told where the contact is reported each 10 s', () => {
    const bench = alarmBench(SPEEDS + GRID, memoryJournal(), SLOW_CONTACT)
    bench.read('gridConnected', 1)
    speedUp(bench)
    bench.read('gridConnected', 0)
    bench.tick(1000)
    expect(episodes(bench)[0]![0]).toBe('Over 120 or Grid lost (which came first cannot be told)')
  })

  it('keep apart what has no way between', () => {
    const bench = alarmBench(SPEEDS + LEVEL, memoryJournal(), GAUGE)
    bench.read('headwaterLevel', 0.5)
    bench.tick(200)
    bench.read('speed', perMinute(1700))
    bench.tick(200)
    expect(episodes(bench)).toEqual([
      ['Over 110', ['over110']],
      ['Forebay low', ['level']],
    ])
  })

  it('are the same after a restart', () => {
    const journal = memoryJournal()
    const before = alarmBench(SPEEDS + GRID, journal, CONTACT)
    loseGrid(before)
    const after = alarmBench(SPEEDS + GRID, journal, CONTACT)
    const places = ({ board }: AlarmBench) =>
      board
        .views()
        .map(({ id, episode, after: first, because, onset }) => [id, episode, first, because, onset])
    expect(places(after)).toEqual(places(before))
  })

  it('end when all of it is answered and over; what comes then is another', () => {
    const bench = alarmBench(SPEEDS)
    const episodeAt = (speed: number) => {
      bench.tick(1000)
      bench.read('speed', perMinute(speed))
      return bench.alarm('over110').episode
    }
    const first = episodeAt(1700)
    episodeAt(1500)
    bench.tick(120_000)
    expect(episodeAt(1700)).toBe(first)
    bench.board.act('over110', { event: 'acknowledge' }, { by: 'Ada', at: 0 })
    episodeAt(1500)
    expect(episodes(bench).map(([headline]) => headline)).not.toContain('Over 110')
    expect(episodeAt(1700)).not.toBe(first)
  })
})
