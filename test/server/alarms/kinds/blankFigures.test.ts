import { describe, expect, it } from 'vitest'
import { alarmKinds } from '../../../../server/alarms/kinds/index.ts'
import { type AlarmBench, alarmBench } from '../../../support/alarmBench.ts'

/**
 * What is checked is a rule of the house, no outside source: a figure that is not known, for whatever reason, neither ends an alarm
 * nor keeps one from coming.
 */

/** Of each kind that judges the amount of a figure, the fields with which 10 kW raises it (low ones: 1 kW). */
const KINDS: Record<string, string> = {
  high: 'limit: 5 kW',
  highHigh: 'limit: 5 kW',
  low: 'limit: 5 kW',
  lowLow: 'limit: 5 kW',
  lasting: 'levels: [{ limit: 5 kW, for: 1 s }]',
  rate: 'limit: 3 kW, within: 1 h, direction: rising',
  deviation: 'from: 2 * dump, limit: 2 kW, direction: above',
  ewma: 'target: 5 kW, spread: 0.1 kW, every: 1 s, direction: rising',
  cusum: 'target: 5 kW, allowance: 0.5 kW, decision: 1 kW, every: 1 s, direction: rising',
}
/** Of each kind that judges every reading of an instrument, its fields, and what it reads when all is well or not. */
const RAW_KINDS: Record<string, { fields: string; quantity: string; well: number; ill: number }> = {
  overSpeed: { fields: 'figure: speed, limit: 110 % of rated', quantity: 'speed', well: 157, ill: 190 },
  lasting: {
    fields: 'figure: speed, levels: [{ limit: 110 % of rated, for: 1 s }]',
    quantity: 'speed',
    well: 157,
    ill: 190,
  },
  state: { fields: 'figure: tripped.1, is: "on"', quantity: 'tripped.1', well: 0, ill: 1 },
}
/** What tells of a loss itself or of a source, and what reads a total that no blank lowers. */
const OTHERS = ['suspectInstrument', 'service', 'stale', 'silent', 'counter', 'doubtfulSource']

const FIGURES = `
figures:
  - id: load
    name: Load
    formula: P
    inputs: { P: activePower, n: speed }
    constants: { n_0: 100 /min }
    unit: kW
    valid: [{ test: n > n_0, otherwise: it stands still }]
  - { id: dump, name: Dump, formula: 0 * P, inputs: { P: activePower }, unit: kW }
  - id: behind
    name: Behind the load
    formula: P_l
    inputs: { P_l: load }
    unit: kW`

const BLANKS: Record<string, (bench: AlarmBench) => void> = {
  'left blank by design': (bench) => {
    bench.read('speed', 0)
    bench.read('activePower', 1000)
  },
  'of a reading out of range': (bench) => {
    bench.read('speed', 157)
    bench.read('activePower', 1e9, { quality: 'bad', reasons: ['out of range'] })
  },
  'of an input out of range': (bench) => {
    bench.read('speed', -5, { quality: 'bad', reasons: ['out of range'] })
    bench.read('activePower', 1000)
  },
  'of silence': () => {},
}

const isLow = (kind: string) => kind.startsWith('low')

function measure(bench: AlarmBench, power: number, seconds: number): void {
  for (let i = 0; i < 2 * seconds; i++) {
    bench.read('speed', 157)
    bench.read('activePower', power)
    bench.tick(500)
  }
}

describe.each(
  Object.entries(KINDS).flatMap(([kind, fields]) =>
    ['load', 'behind'].map((figure) => [kind, figure, fields] as const),
  ),
)('an alarm of the kind %s on the figure "%s"', (kind, figure, fields) => {
  const bad = isLow(kind) ? 1000 : 10_000
  const well = isLow(kind) ? 10_000 : 1000
  const open = (more = '') =>
    alarmBench(
      `  - { id: a, name: A, kind: ${kind}, figure: ${figure}, ${fields}, priority: high${more} }${FIGURES}`,
    )
  const events = (bench: AlarmBench) =>
    bench.journal.entries.flatMap(({ alarm, event }) => (alarm === 'a' ? [event] : []))

  it.each(Object.entries(BLANKS))('is not over while its figure is blank because %s', (_why, blank) => {
    const bench = open()
    measure(bench, well, 5)
    measure(bench, bad, 20)
    expect(events(bench)).toEqual(['raise'])
    for (let i = 0; i < 60; i++) {
      blank(bench)
      bench.tick(500)
    }
    expect(bench.alarm('a')).toMatchObject({ state: 'unacknowledged', active: true, unknown: true })
    expect(events(bench)).toEqual(['raise'])
    measure(bench, bad, 5)
    expect(bench.alarm('a')).toMatchObject({ active: true, unknown: false })
  })

  it('comes in its time although its figure was blank meanwhile', () => {
    const bench = open(', onDelay: 10 s')
    measure(bench, well, 5)
    measure(bench, bad, 8)
    expect(events(bench)).toEqual([])
    for (let i = 0; i < 4; i++) {
      BLANKS['left blank by design']!(bench)
      bench.tick(500)
    }
    measure(bench, bad, 6)
    expect(events(bench)).toEqual(['raise'])
  })
})

describe.each(Object.entries(RAW_KINDS))(
  'an alarm of the kind %s on readings',
  (kind, { fields, quantity, well, ill }) => {
    const TRIP = '- { id: relay, role: tripped.1, topic: mill/trip, unit: "1", staleAfter: 3 s }'
    const open = () =>
      alarmBench(`  - { id: a, name: A, kind: ${kind}, ${fields}, priority: high }`, undefined, TRIP)
    const play = (bench: AlarmBench, value: number | undefined, seconds: number, more = {}) => {
      for (let i = 0; i < 2 * seconds; i++) {
        if (value !== undefined) bench.read(quantity, value, more)
        bench.tick(500)
      }
    }

    it.each([
      ['of a reading that is bad', -1000, { quality: 'bad', reasons: ['out of range'] } as const],
      ['of silence', undefined, {}],
    ])('is not over while its figure is blank because %s', (_why, value, more) => {
      const bench = open()
      play(bench, well, 5)
      play(bench, ill, 20)
      play(bench, value, 30, more)
      expect(bench.alarm('a')).toMatchObject({ state: 'unacknowledged', active: true, unknown: true })
      expect(bench.journal.entries.filter(({ alarm }) => alarm === 'a').map(({ event }) => event)).toEqual([
        'raise',
      ])
      play(bench, well, 5)
      expect(bench.alarm('a')).toMatchObject({ active: false, unknown: false })
    })
  },
)

it('stands for every kind of alarm, or says why not', () => {
  expect([...new Set([...Object.keys(KINDS), ...Object.keys(RAW_KINDS), ...OTHERS])].sort()).toEqual(
    alarmKinds.map(({ id }) => id).sort(),
  )
})

describe('an alarm on the residual flow through an outlet', () => {
  const bench = alarmBench(
    `  - { id: river, name: River, kind: low, figure: residualFlow, limit: 8 L/s, priority: high }
residualOutlet: { area: 0.01 m2, coefficient: 0.6, centre: 0.40 m }`,
    undefined,
    '- { id: gauge, role: headwaterLevel, topic: mill/level, unit: m, accuracy: { absolute: 0.01 } }',
  )
  const at = (level: number) => {
    for (let i = 0; i < 20; i++) {
      bench.read('headwaterLevel', level)
      bench.tick(500)
    }
    return bench.alarm('river')
  }

  it('stands while the outlet runs dry, since then the river gets nothing', () => {
    expect(at(1.0)).toMatchObject({ active: false })
    expect(at(0.45)).toMatchObject({ active: true, unknown: false })
    expect(at(0.39)).toMatchObject({ active: true, unknown: false, state: 'unacknowledged' })
    expect(at(0.05)).toMatchObject({ active: true, unknown: false, state: 'unacknowledged' })
    expect(bench.alarm('river').peak).toBe(0)
  })
})
