import { expect, it } from 'vitest'
import { episodesOf } from '../../../../server/wire/episode.ts'
import { type AlarmBench, alarmBench, memoryJournal, perMinute } from '../../../support/alarmBench.ts'

const ALARMS = `
  - { id: tachometer-lost, name: Tachometer lost, kind: stale, figure: speed, priority: medium, offDelay: 5 s, group: inputs }
  - { id: weak, name: Power low, kind: low, figure: activePower, limit: 1 kW, priority: high }
  - { id: level, name: Forebay low, kind: low, figure: headwaterLevel, limit: 0.8 m, priority: low }`
const GAUGE = '- { id: level, role: headwaterLevel, topic: mill/level, unit: m, staleAfter: 3 s }'

const ALL = { speed: perMinute(1500), activePower: 10_000, headwaterLevel: 1.2 }

/** Readings of these each 200 ms for this long [s]. */
function play(bench: AlarmBench, seconds: number, quantities = Object.keys(ALL)): void {
  for (let i = 0; i < 5 * seconds; i++) {
    for (const one of quantities) bench.read(one, ALL[one as keyof typeof ALL])
    bench.tick(200)
  }
}

const raised = (bench: AlarmBench) => bench.journal.entries.map((one) => `${one.alarm} ${one.event}`)

it('no instrument is called lost while its gateway says nothing for 9 to 15 s, nor while it comes back', () => {
  for (const pause of [9, 12, 15]) {
    const bench = alarmBench(ALARMS, memoryJournal(), GAUGE)
    play(bench, 10)
    play(bench, pause, [])
    // The gauge speaks first; the tachometer needs two seconds more.
    play(bench, 2, ['headwaterLevel', 'activePower'])
    play(bench, 10)
    expect(raised(bench).filter((one) => !one.startsWith('telemetry-silent'))).toEqual([])
  }
})

it('an instrument that is silent while others speak is lost', () => {
  const bench = alarmBench(ALARMS, memoryJournal(), GAUGE)
  play(bench, 10)
  play(bench, 4, ['headwaterLevel', 'activePower'])
  expect(raised(bench)).toEqual(['tachometer-lost raise'])
})

it('instruments that stop at one moment are one episode of one sender', () => {
  const bench = alarmBench(ALARMS, memoryJournal(), GAUGE)
  play(bench, 10)
  play(bench, 10, ['headwaterLevel'])
  expect(episodesOf(bench.board.views()).map((one) => one.headline)).toEqual([
    '2 inputs lost together: Tachometer lost, active power',
  ])
})

it('one that stops later, by itself, is another episode', () => {
  const bench = alarmBench(ALARMS, memoryJournal(), GAUGE)
  play(bench, 10)
  play(bench, 30, ['headwaterLevel', 'activePower'])
  play(bench, 10, ['headwaterLevel'])
  const headlines = episodesOf(bench.board.views()).map((one) => one.headline)
  expect(headlines).toEqual(['Input lost: active power', 'Tachometer lost'])
})
