import { describe, expect, it } from 'vitest'
import { createMachineState } from '../../../server/derive/machineState.ts'
import { perMinute } from '../../support/alarmBench.ts'
import { evaluatorBench } from '../../support/evaluatorBench.ts'
import { START } from '../../support/manualClock.ts'
import { plantOf } from '../../support/plants.ts'

// The words are the trade's (common practice, no source); that nothing untrue
// is said is a rule of the house.

const SPEED = '  - { id: tacho, role: speed, topic: mill/speed, unit: /min }\n'
const POWER = '  - { id: meter, role: activePower, topic: mill/power, unit: kW }\n'
const RUNNER = '  - { id: runner, role: turbineSpeed, topic: mill/runner, unit: /min }\n'
const FREQUENCY = '  - { id: hertz, role: frequency, topic: mill/frequency, unit: Hz }\n'
const WATER = `  - { id: flow, role: discharge, topic: mill/flow, unit: m3/s }
  - { id: gauge, role: inletPressure, topic: mill/pressure, unit: bar }
`
const KW = 1000

interface Machine {
  kind?: string
  use?: string
}

/** A machine of 1000 min⁻¹ and 10 kW whose readings are played, one set a second. */
function machineWith(instruments: string, { kind = 'induction', use = 'offGrid' }: Machine = {}) {
  const plant = plantOf(`
use: ${use}
site: { timeZone: UTC, gravity: 9.81 m/s2, waterDensity: 1000 kg/m3, elevations: { turbine: 0 m, inletGauge: 0 m } }
turbine: { kind: pelton, ratedDischarge: 0.2 m3/s, ratedSpeed: 500 /min, driveRatio: 2 }
generator: { kind: ${kind}, polePairs: 3, ratedSpeed: 1000 /min, ratedPower: 10 kW }
instruments:
${instruments}`)
  const bench = evaluatorBench(plant)
  const machine = createMachineState(bench.plan, bench.figures)
  let now = START
  return {
    play(seconds: number, readings: (second: number) => Record<string, number>) {
      for (let second = 0; second < seconds; second++) {
        now += 1000
        for (const [quantity, value] of Object.entries(readings(second)))
          bench.read(quantity, value, { measuredAt: now })
        bench.evaluate(now)
        machine.tick(now)
      }
      return machine.state()
    },
  }
}

const steady = (instruments: string, readings: Record<string, number>, more: Machine = {}) =>
  machineWith(instruments, more).play(15, () => readings)

describe('the state of the machine', () => {
  it.each([
    ['generating', { speed: perMinute(1000), activePower: 8 * KW }],
    ['generating', { speed: perMinute(150), activePower: 0.4 * KW }],
    ['noLoad', { speed: perMinute(1000), activePower: 0 }],
    ['noLoad', { speed: perMinute(50), activePower: 0 }],
    ['motoring', { speed: perMinute(1000), activePower: -0.5 * KW }],
    ['stopped', { speed: 0, activePower: 0 }],
    ['stopped', { speed: 0, activePower: -0.3 * KW }],
    ['overSpeed', { speed: perMinute(1100), activePower: 0 }],
    ['overSpeed', { speed: perMinute(1100), activePower: 8 * KW }],
  ])('is %s at a steady %o', (state, readings) => {
    expect(steady(SPEED + POWER, readings).state).toBe(state)
  })

  it('says in which direction a machine without power changes its speed', () => {
    const start = machineWith(SPEED + POWER)
    start.play(15, () => ({ speed: 0, activePower: 0 }))
    const rising = start.play(10, (s) => ({ speed: perMinute(80 * s), activePower: 0 }))
    expect(rising).toMatchObject({ state: 'starting' })
    expect(rising.sentence).toMatch(/At 72 % of rated speed and rising/)
    const falling = start.play(10, (s) => ({ speed: perMinute(720 - 50 * s), activePower: 0 }))
    expect(falling).toMatchObject({ state: 'runDown' })
  })

  it('does not call it a start when the machine speeds up because it has lost its load', () => {
    const lost = machineWith(SPEED + POWER)
    lost.play(15, () => ({ speed: perMinute(700), activePower: 5 * KW }))
    const after = lost.play(4, (s) => ({ speed: perMinute(700 + 40 * s), activePower: 0 }))
    expect(after.state).toBe('noLoad')
    expect(after.sentence).toMatch(/without making power, and speeding up/)
  })

  it('stays what it is where the power lies at the edge of one per cent', () => {
    const edge = machineWith(SPEED + POWER)
    edge.play(5, () => ({ speed: perMinute(1000), activePower: 0.12 * KW }))
    const words = Array.from({ length: 10 }, (_, i) =>
      edge.play(1, () => ({ speed: perMinute(1000), activePower: (i % 2 ? 0.09 : 0.11) * KW })),
    )
    expect(new Set(words.map(({ state }) => state))).toEqual(new Set(['generating']))
  })

  it.each([
    ['the speed is lost', SPEED + POWER, { activePower: 0 }, /may be turning fast/],
    ['nothing tells the speed', POWER, { activePower: 0 }, /no instrument tells whether the machine turns/],
    ['nothing has come yet', SPEED + POWER, {}, /neither speed nor power/],
    ['power goes in and nothing tells the speed', POWER, { activePower: -500 }, /no instrument tells which/],
    ['the power is unknown too', POWER, {}, /power is not coming in/],
  ])('is unknown while %s', (_why, instruments, readings: Record<string, number>, words) => {
    const { state, sentence } = steady(instruments, readings)
    expect(state).toBe('unknown')
    expect(sentence).toMatch(words)
  })

  it('goes by the power alone where it is made', () => {
    expect(steady(POWER, { activePower: 8 * KW }).state).toBe('generating')
  })

  it('says that the shaft turns, and no more, where the power is lost or not measured', () => {
    const lost = steady(SPEED + POWER, { speed: perMinute(1000) })
    expect(lost).toMatchObject({
      state: 'turning',
      sentence: expect.stringMatching(/the power is not known/),
    })
    expect(steady(SPEED, { speed: perMinute(1000) }).sentence).toMatch(/no instrument tells the power/)
    expect(steady(SPEED, { speed: 0 }).state).toBe('stopped')
  })

  it.each([25, 16.7, 4, 0])('is never stopped at %d /min while 8.8 of 10 kW are made', (speed) => {
    const slip = machineWith(SPEED + POWER)
    slip.play(10, () => ({ speed: perMinute(1000), activePower: 8.8 * KW }))
    const states = Array.from({ length: 10 }, () =>
      slip.play(1, () => ({ speed: perMinute(speed), activePower: 8.8 * KW })),
    )
    expect(states.map(({ state }) => state)).not.toContain('stopped')
    expect(states.at(-1)).toMatchObject({
      state: 'unknown',
      sentence: expect.stringMatching(/8800 W cannot both be/),
    })
  })

  it('believes no tachometer that stands still while another instrument says that the shaft turns', () => {
    const runner = steady(SPEED + RUNNER + POWER, { speed: 0, turbineSpeed: perMinute(500), activePower: 0 })
    expect(runner.state).toBe('unknown')
    expect(runner.sentence).toMatch(/the tachometer says 0 %.*the tachometer of the turbine 100 %/)
    const island = { kind: 'synchronous' }
    const still = { speed: 0, frequency: 50, activePower: 0 }
    expect(steady(SPEED + FREQUENCY + POWER, still, island).state).toBe('unknown')
    // the grid has its frequency whether the machine turns or not
    expect(steady(SPEED + FREQUENCY + POWER, still, { ...island, use: 'gridTied' }).state).toBe('stopped')
  })

  it('does not take the frequency of the grid for that of a shaft which nothing else tells of', () => {
    const grid = { kind: 'synchronous', use: 'gridTied' }
    expect(steady(FREQUENCY + POWER, { frequency: 50, activePower: 0 }, grid).state).toBe('unknown')
    expect(steady(FREQUENCY + POWER, { frequency: 50, activePower: 0 }, { kind: 'synchronous' }).state).toBe(
      'noLoad',
    )
  })

  it('says that the power meter is the wrong way round where much water makes much power that seems to go in', () => {
    const readings = { speed: perMinute(1000), activePower: -8 * KW, discharge: 0.1, inletPressure: 1e5 }
    const { state, sentence } = steady(SPEED + POWER + WATER, readings)
    expect(state).toBe('unknown')
    expect(sentence).toMatch(/the wrong way round/)
  })

  it('has words of its own for water that runs back, and names no water power that is less than what is made', () => {
    const back = { speed: perMinute(1000), activePower: 8 * KW, discharge: -0.1, inletPressure: 1e5 }
    const { state, sentence } = steady(SPEED + POWER + WATER, back)
    expect(state).toBe('generating')
    expect(sentence).toMatch(/reads −100 L\/s: water runs back/)
    expect(sentence).not.toMatch(/from -/)
  })

  it('does not take a meter a little off zero for water that runs back', () => {
    const still = { speed: 0, activePower: 0, discharge: -0.0011, inletPressure: 1e5 }
    expect(steady(SPEED + POWER + WATER, still).sentence).toBe('The shaft stands still.')
  })

  it('says since when', () => {
    const one = machineWith(SPEED + POWER)
    const at = one.play(5, () => ({ speed: 0, activePower: 0 })).since
    expect(one.play(5, () => ({ speed: 0, activePower: 0 })).since).toBe(at)
    expect(one.play(2, () => ({ speed: perMinute(1000), activePower: 8 * KW })).since).toBe(START + 12_000)
  })
})
