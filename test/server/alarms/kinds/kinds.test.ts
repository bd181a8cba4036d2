import { describe, expect, it } from 'vitest'
import { countAlarms } from '../../../../server/alarms/board.ts'
import { planPlant } from '../../../../server/livePlant.ts'
import { type AlarmBench, alarmBench, perMinute } from '../../../support/alarmBench.ts'
import { plantOf } from '../../../support/plants.ts'

const raises = (bench: AlarmBench, id: string) =>
  bench.journal.entries.filter((entry) => entry.alarm === id && entry.event === 'raise').length

/** One value of power [W] a second; the 1-based numbers of the values at which the alarm is active. */
function activeAt(bench: AlarmBench, id: string, values: readonly number[]): number[] {
  return values.flatMap((value, i) => {
    bench.read('activePower', value)
    bench.tick(1000)
    return bench.alarm(id).active ? [i + 1] : []
  })
}

describe('the kind ewma', () => {
  // NIST/SEMATECH e-Handbook 6.3.2.4: λ 0.3, target 50, s 2.0539; averages 50.60 49.52 … 50.73 51.23 51.94 51.99
  const DATA = [
    52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6,
    52.4, 53.6, 52.1,
  ]
  const drift = (width: number) => `
  - { id: drift, name: Drift, kind: ewma, figure: activePower, target: 50 W, spread: 2.0539 W, weight: 0.3, width: ${width}, every: 0 s, direction: either, priority: low }`

  it('gives no signal on the data of the handbook, whose limits are 47.41 and 52.59', () => {
    expect(activeAt(alarmBench(drift(3)), 'drift', DATA)).toEqual([])
  })

  it('signals at the 19th value with the limit at 51.5, between the averages 51.23 and 51.94', () => {
    const width = 1.5 / (2.0539 * Math.sqrt(0.3 / 1.7))
    expect(activeAt(alarmBench(drift(width)), 'drift', DATA)).toEqual([19, 20])
  })
})

describe('the kind cusum', () => {
  it('signals first at group 14 of the data of NIST/SEMATECH e-Handbook 6.3.2.3', () => {
    const bench = alarmBench(`
  - { id: shift, name: Shift, kind: cusum, figure: activePower, target: 325 W, allowance: 0.3175 W, decision: 4.1959 W, every: 0 s, direction: rising, priority: low }`)
    const data = [
      324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15,
      328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
    ]
    expect(activeAt(bench, 'shift', data)).toEqual([14, 15, 16, 17, 18, 19, 20])
  })
})

describe('the kinds with one limit', () => {
  const limited = (kind: string) => `
  - { id: limit, name: Limit, ${kind}, figure: activePower, limit: 1 kW, deadband: 100 W, priority: low }`

  it.each(['kind: high', 'kind: highHigh'])('hold at or above it until a deadband below: %s', (kind) => {
    expect(activeAt(alarmBench(limited(kind)), 'limit', [999, 1000, 901, 899, 999])).toEqual([2, 3])
  })

  it.each(['kind: low', 'kind: lowLow'])('hold at or below it until a deadband above: %s', (kind) => {
    expect(activeAt(alarmBench(limited(kind)), 'limit', [1001, 1000, 1099, 1101, 1001])).toEqual([2, 3])
  })
})

describe('the kinds that tell of a loss', () => {
  const LOSS = `
  - { id: gone, name: Gone, kind: stale, figure: activePower, priority: low }
  - { id: mute, name: Mute, kind: silent, after: 20 s, priority: low }`

  it('tell one input that is lost from a plant that says nothing', () => {
    const bench = alarmBench(LOSS)
    const active = () => [bench.alarm('gone').active, bench.alarm('mute').active]
    bench.read('activePower', 1000)
    bench.tick(1000)
    expect(active()).toEqual([false, false])
    for (let second = 0; second < 10; second++) {
      bench.read('speed', perMinute(1500))
      bench.tick(1000)
    }
    expect(active()).toEqual([true, false])
    bench.tick(20_000)
    expect(active()).toEqual([false, true])
  })
})

describe('the kind lasting', () => {
  const LASTING = `
  - { id: long, name: Long, kind: lasting, figure: speed, levels: [{ limit: 105 % of rated, for: 60 s }, { limit: 110 % of rated, for: 1 s }], deadband: 2 % of rated, priority: medium }`

  function holdAt(n: number, seconds: number): boolean {
    const bench = alarmBench(LASTING)
    for (let t = 0; t < seconds * 10; t++) {
      bench.read('speed', perMinute(n))
      bench.tick(100)
    }
    return bench.alarm('long').active
  }

  it('raises at 106 % only after 60 s, at 111 % after 1 s, at 104 % never', () => {
    expect([holdAt(1590, 59), holdAt(1590, 61)]).toEqual([false, true])
    expect([holdAt(1665, 0.9), holdAt(1665, 1.3)]).toEqual([false, true])
    expect(holdAt(1560, 70)).toBe(false)
  })

  it('begins a time anew when the value drops below its level', () => {
    const bench = alarmBench(LASTING)
    for (const n of [1660, 1660, 1500, 1660, 1660]) {
      bench.read('speed', perMinute(n))
      bench.tick(400)
    }
    expect(bench.alarm('long').active).toBe(false)
  })
})

describe('the kind rate', () => {
  const RATE = `
  - { id: falls, name: Falls, kind: rate, figure: activePower, limit: 100 W, within: 60 s, direction: falling, priority: low }`
  const ramp = (perSecond: number) => Array.from({ length: 120 }, (_, i) => 5000 - perSecond * i)

  it('raises on 2 W a second, which is 120 W a minute, and not on 1.5 W a second', () => {
    expect(activeAt(alarmBench(RATE), 'falls', ramp(2)).length).toBeGreaterThan(0)
    expect(activeAt(alarmBench(RATE), 'falls', ramp(1.5))).toEqual([])
  })

  it('does not raise when it was asked about a fall and the figure rises', () => {
    expect(activeAt(alarmBench(RATE), 'falls', ramp(-10))).toEqual([])
  })

  it('says how far it went', () => {
    const bench = alarmBench(RATE)
    activeAt(bench, 'falls', [5000, 4850])
    expect(bench.alarm('falls').detail).toBe('by 0.15 kW within 1 min')
  })
})

describe('the kind deviation', () => {
  it('holds a figure against an expression of others, in per cent of it', () => {
    const bench = alarmBench(`
  - { id: off, name: Off, kind: deviation, figure: activePower, from: generator_ratedPower * speed / generator_ratedSpeed, limit: 10 %, direction: below, priority: low }`)
    bench.read('speed', perMinute(1500))
    expect(activeAt(bench, 'off', [15_000, 13_600])).toEqual([])
    bench.read('speed', perMinute(1500))
    expect(activeAt(bench, 'off', [13_400])).toEqual([1])
    expect(bench.alarm('off').detail).toBe('by 10.7 %')
  })

  it('is unknown while what it is held against is missing', () => {
    const bench = alarmBench(`
  - { id: off, name: Off, kind: deviation, figure: activePower, from: 100 W * speed / generator_ratedSpeed, limit: 10 %, priority: low }`)
    bench.read('activePower', 9000)
    bench.tick(1000)
    expect(bench.alarm('off')).toMatchObject({ active: false, unknown: true })
  })

  it('reads points of a curve in the plant file', () => {
    const bench = alarmBench(`
  - { id: off, name: Off, kind: deviation, figure: activePower, from: "curve(speed / generator_ratedSpeed) * generator_ratedPower", curve: [[0, 0], [1, 0.5]], limit: 1 kW, direction: above, priority: low }`)
    bench.read('speed', perMinute(1500))
    expect(activeAt(bench, 'off', [8400])).toEqual([])
    expect(activeAt(bench, 'off', [8600])).toEqual([1])
  })
})

describe('a "while" condition', () => {
  const LOW = `
  - { id: low, name: Low, kind: low, figure: activePower, limit: 5 kW, while: speed > 0.5 * generator_ratedSpeed, priority: medium }`

  it('keeps an alarm suppressed while it does not hold', () => {
    const bench = alarmBench(LOW)
    bench.read('speed', perMinute(100))
    bench.read('activePower', 0)
    bench.tick(200)
    expect(bench.alarm('low')).toMatchObject({ state: 'suppressed', active: false })
    bench.read('speed', perMinute(1500))
    bench.read('activePower', 0)
    bench.tick(200)
    expect(bench.alarm('low').state).toBe('unacknowledged')
  })

  it('suppresses nothing while nobody can tell whether it holds', () => {
    const bench = alarmBench(LOW)
    bench.read('activePower', 0)
    bench.tick(200)
    expect(bench.alarm('low').state).toBe('unacknowledged')
  })

  it('never hides what nobody has acknowledged', () => {
    const bench = alarmBench(LOW)
    bench.read('speed', perMinute(1500))
    bench.read('activePower', 0)
    bench.tick(200)
    bench.read('speed', perMinute(100))
    bench.tick(200)
    expect(bench.alarm('low').state).toBe('returnedUnacknowledged')
  })
})

describe('a notice', () => {
  it('asks nobody to answer: it comes acknowledged, goes by itself and is not counted', () => {
    const bench = alarmBench(`
  - { id: note, name: Note, entry: notice, kind: low, figure: activePower, limit: 5 kW, priority: low }`)
    bench.read('activePower', 0)
    bench.tick(200)
    expect(bench.alarm('note')).toMatchObject({ entry: 'notice', state: 'acknowledged' })
    expect(countAlarms(bench.board.views())).toEqual({ unacknowledged: 0, active: 0 })
    bench.read('activePower', 9000)
    bench.tick(200)
    expect(bench.alarm('note').state).toBe('normal')
    expect(raises(bench, 'note')).toBe(1)
  })
})

describe('the witnesses of over-speed', () => {
  it('raise from the frequency alone while the tachometer says 1500 min⁻¹, and return when both say so', () => {
    const bench = alarmBench(
      `
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high }`,
      undefined,
      '- { id: hertz, role: frequency, topic: mill/hertz, unit: Hz, staleAfter: 3 s }',
    )
    bench.read('speed', perMinute(1500))
    bench.read('frequency', 54.9)
    expect(bench.alarm('over').active).toBe(false)
    bench.read('frequency', 55.1)
    expect(bench.alarm('over')).toMatchObject({
      active: true,
      detail: 'told by the frequency; the tachometer disagrees',
    })
    expect(bench.alarm('over').peak).toBeCloseTo(perMinute(55.1 * 30), 6)
    bench.read('frequency', 50)
    expect(bench.alarm('over').active).toBe(false)
  })
})

describe('a tachometer on the turbine shaft', () => {
  it('raises over-speed on its one raw reading while the one on the generator says 1500 min⁻¹', () => {
    const bench = alarmBench(
      `
  - { id: over, name: Over-speed, kind: overSpeed, figure: speed, limit: 110 % of rated, priority: high }`,
      undefined,
      '- { id: runner, role: turbineSpeed, topic: mill/runner, unit: /min, staleAfter: 3 s }',
    )
    bench.read('speed', perMinute(1500))
    bench.read('turbineSpeed', perMinute(1660))
    expect(bench.alarm('over')).toMatchObject({
      active: true,
      detail: 'told by the tachometer of the turbine; the tachometer disagrees',
    })
  })
})

describe('the faults of alarms in a plant file', () => {
  const fault = (alarm: string) => {
    const { faults } = planPlant(
      plantOf(`
instruments:
  - { id: tacho, role: speed, topic: mill/speed, unit: /min }
  - { id: meter, role: activePower, topic: mill/power, unit: kW }
alarms:
  - { id: a, name: A, priority: low, ${alarm} }`),
    )
    return faults.map(({ path, expected }) => `${path}: ${expected}`).join('\n')
  }

  it.each([
    ['kind: higher, figure: speed', 'alarms[0].kind: an alarm kind: high, highHigh, low, lowLow, overSpeed'],
    ['kind: high, figure: speed', 'alarms[0].limit: "limit", which the kind "high" needs'],
    ['kind: high, figure: speed, limit: 10 m', 'alarms[0].limit: a number with one of the units'],
    [
      'kind: high, figure: speed, limit: 10 /min, within: 5 s',
      'alarms[0].within: no such key for the kind "high"',
    ],
    [
      'kind: state, figure: none, is: on',
      'alarms[0].figure: a figure that this plant has: speed, activePower',
    ],
    [
      'kind: deviation, figure: speed, from: activePower, limit: 2 %',
      'alarms[0].from: an expression in rad/s; this one gives m^2·kg·s^-3',
    ],
    [
      'kind: high, figure: speed, limit: 10 /min, while: activePower > 5',
      'alarms[0].while: a condition over figures that this plant has',
    ],
    ['kind: high, figure: speed, limit: 10 /min, while: activePower', 'alarms[0].while: a condition such as'],
    [
      'kind: overSpeed, figure: speed, limit: 10 /min, onDelay: 1 s',
      'alarms[0].onDelay: no on-delay: the kind "overSpeed" is never delayed',
    ],
    ['kind: overSpeed, figure: speed', 'alarms[0].limit: either "limit" or "levels", not both'],
    [
      'kind: overSpeed, figure: speed, limit: 10 /min, shelf: 1 h',
      'alarms[0].shelf: no "shelf": the kind "overSpeed" is never shelved',
    ],
    ['kind: counter, counter: beer, limit: 3 m3', 'alarms[0].counter: a counter: energyGenerated'],
  ])('of "%s" are told in a sentence', (alarm, sentence) => {
    expect(fault(alarm)).toContain(sentence)
  })
})

describe('the kind doubtfulSource', () => {
  it('takes the place of the alarm that is there by itself, with the words and the priority of the plant file', () => {
    const bench = alarmBench('  - { id: doubt, name: Doubt, kind: doubtfulSource, priority: high }')
    bench.read('speed', perMinute(1500), { doubt: 'senders' })
    expect(bench.alarm('doubt')).toMatchObject({
      active: true,
      priority: 'high',
      detail: 'tacho: two clients send it in turn',
    })
    expect(bench.board.views().some(({ id }) => id === 'source-in-doubt')).toBe(false)
    bench.tick(11_000)
    expect(bench.alarm('doubt').active).toBe(false)
  })
})
