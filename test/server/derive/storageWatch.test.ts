import { describe, expect, it } from 'vitest'
import { createWindow } from '../../../server/derive/windows.ts'
import { fitLinear } from '../../../server/statistics/regression.ts'
import type { EvaluatorBench } from '../../support/evaluatorBench.ts'
import { figureBench, take } from '../../support/figureBench.ts'
import { START } from '../../support/manualClock.ts'
import { playPlant } from '../../support/playedPlant.ts'

// Design sheet of the four-jet rig: J 0.020 kg·m², 1500 min⁻¹, 3.775 N·m, 847 W of water.
const RIG = {
  site: 'gravity: 9.81 m/s2, waterDensity: 998.2 kg/m3, elevations: { turbine: 0 m, inletGauge: 0.10 m }',
  turbine: '{ kind: pelton, inletBore: 52.5 mm, ratedNetHead: 24 m, ratedDischarge: 3.605 L/s }',
  generator:
    '{ kind: permanentMagnet, polePairs: 2, ratedPower: 513 W, ratedSpeed: 1500 /min, inertia: 0.020 kg.m2 }',
}
const STEADY = {
  discharge: '3.605 L/s',
  inletPressure: '2.3267 bar',
  torque: '3.775 N.m',
  activePower: '513 W',
  speed: '1500 /min',
}

const END = 5

/** Readings every 50 ms until END. */
function watched(
  speed: (second: number) => number,
  others: (second: number) => Record<string, string> = () => ({}),
) {
  const bench = figureBench(RIG, STEADY)
  for (let ms = 50; ms <= END * 1000; ms += 50) {
    const second = ms / 1000
    take(bench, { ...STEADY, ...others(second), speed: `${speed(second)} /min` }, START + ms)
    if (ms % 200 === 0) bench.evaluate(START + ms)
  }
  return bench
}
const unsteady = (bench: EvaluatorBench, figure: string) =>
  bench.view(figure).reasons.filter((reason) => reason.startsWith('not steady'))

describe('the slope of a window', () => {
  const points = [0, 1, 2, 3, 4, 5, 6].map((i) => ({
    at: START + i * 150,
    value: [3, 5, 4, 8, 9, 9, 12][i]!,
  }))

  it('and its error are those of a least-squares line', () => {
    const window = createWindow(1)
    for (const { at, value } of points) window.add(at, value)
    // an independent way: the fit that is checked against the NIST data sets
    const fit = fitLinear({
      columns: [points.map(({ at }) => (at - START) / 1000)],
      y: points.map(({ value }) => value),
    })
    expect(window.line().slope).toBeCloseTo(fit.coefficients[1]!, 9)
    expect(window.line().error).toBeCloseTo(fit.standardErrors[1]!, 9)
  })

  it('looks no further back than its stretch, but over five values at least', () => {
    const window = createWindow(1)
    for (let i = 0; i < 40; i++) window.add(START + i * 100, i < 20 ? 0 : i - 20)
    expect(window.line().slope).toBeCloseTo(10, 9)
    const slow = createWindow(1)
    for (let i = 0; i < 4; i++) slow.add(START + i * 1000, i)
    expect(slow.line().slope).toBeNaN()
    slow.add(START + 4000, 4)
    expect(slow.line().slope).toBeCloseTo(1, 9)
  })

  it('forgets what was before a long pause, and leaves out what is not newer', () => {
    const window = createWindow(1)
    for (let i = 0; i < 10; i++) window.add(START + i * 100, 100)
    for (let i = 0; i < 10; i++) window.add(START + 60_000 + i * 100, i)
    window.add(START + 60_000, 1e9)
    expect(window.line().slope).toBeCloseTo(10, 9)
    expect(window.mean()).toBeCloseTo(4.5, 9)
  })

  it('thins out what comes quicker than it can hold, and keeps the slope', () => {
    const window = createWindow(1)
    for (let i = 0; i < 5000; i++) window.add(START + i, i)
    expect(window.line().slope).toBeCloseTo(1000, 6)
  })
})

describe('the power into the rotor', () => {
  it('is what the jets give when the load is lost: 3.775 N·m on 0.020 kg·m²', () => {
    // by hand: α = T/J = 188.75 rad/s², P = T·ω
    const bench = watched((second) => 1500 + (second * 188.75 * 30) / Math.PI)
    expect(bench.view('speedSlope').value).toBeCloseTo(188.75, 3)
    expect(bench.view('kineticPower').value).toBeCloseTo(3.775 * bench.view('speed').value!, 3)
    expect(bench.view('kineticEnergy').value).toBeCloseTo(0.01 * bench.view('speed').value! ** 2, 9)
  })
})

describe('a figure that needs steady running', () => {
  it('is uncertain while the rotor takes up more than 2 % of the hydraulic power, and says how much', () => {
    // by hand: 34 W at 1500 min⁻¹ are 34/(0.020·157.08) = 10.82 rad/s² or 103.3 min⁻¹/s; the limit is 17 W
    const bench = watched((second) => 1500 + 103.3 * (second - END))
    expect(unsteady(bench, 'turbineEfficiency')).toEqual(['not steady: the rotor takes up 34 W'])
    expect(bench.view('turbineEfficiency').quality).toBe('uncertain')
    expect(bench.view('turbineEfficiency').value).toBeCloseTo(0.7, 2)
    expect(unsteady(bench, 'generatorEfficiency')).toHaveLength(1)
    expect(unsteady(bench, 'waterToWireEfficiency')).toHaveLength(1)
    expect(bench.view('hydraulicPower').quality).toBe('good')
  })

  it('says when the rotor gives energy back', () => {
    const bench = watched((second) => 1500 - 103.3 * (second - END))
    expect(unsteady(bench, 'turbineEfficiency')).toEqual(['not steady: the rotor gives back 34 W'])
  })

  it('is good below 2 %', () => {
    // by hand: 15 W are 45.6 min⁻¹/s
    const bench = watched((second) => 1500 + 45.6 * (second - END))
    expect(unsteady(bench, 'turbineEfficiency')).toEqual([])
    expect(bench.view('turbineEfficiency').quality).toBe('good')
  })

  it('is measured against rated power where the hydraulic power is not known', () => {
    const { discharge: _discharge, inletPressure: _pressure, ...dry } = STEADY
    const bench = figureBench(RIG, dry)
    for (let ms = 50; ms <= END * 1000; ms += 50)
      // 34 W are 6.6 % of 513 W
      take(bench, { ...dry, speed: `${1500 + 103.3 * (ms / 1000 - END)} /min` }, START + ms)
    bench.evaluate(START + END * 1000)
    expect(unsteady(bench, 'generatorEfficiency')).toEqual(['not steady: the rotor takes up 34 W'])
  })

  it('is not disturbed by a tachometer that jitters by 1 %, nor by one wild reading', () => {
    const jitter = [8, -15, 3, 14, -9, -2, 11, -13, 6, -4, 15, -7]
    let i = 0
    const noisy = watched(() => 1500 + jitter[i++ % jitter.length]!)
    expect(unsteady(noisy, 'turbineEfficiency')).toEqual([])
    const wild = watched((second) => (second === END - 0.1 ? 3000 : 1500))
    expect(unsteady(wild, 'turbineEfficiency')).toEqual([])
  })

  it('is uncertain while the net head changes by more than 2 % in a second', () => {
    // by hand: 1.00 m/s of 24 m are 4.2 %; a quarter of that is not enough
    const rising = (rate: number) => (second: number) => ({
      inletPressure: `${232_670 + 998.2 * 9.81 * rate * (second - END)} Pa`,
    })
    expect(
      unsteady(
        watched(() => 1500, rising(1)),
        'turbineEfficiency',
      ),
    ).toEqual(['not steady: the net head rises by 1 m/s'])
    expect(
      unsteady(
        watched(() => 1500, rising(-1)),
        'turbineEfficiency',
      ),
    ).toEqual(['not steady: the net head falls by 1 m/s'])
    expect(
      unsteady(
        watched(() => 1500, rising(0.25)),
        'turbineEfficiency',
      ),
    ).toEqual([])
    expect(watched(() => 1500, rising(1)).view('netHeadSlope').value).toBeCloseTo(1, 6)
  })

  it('cannot be judged, and is not, where the plant file gives no inertia', () => {
    const { generator: _, ...bare } = RIG
    const bench = figureBench(bare, STEADY)
    expect(bench.plan.indexOf.has('kineticPower')).toBe(false)
    expect(bench.view('turbineEfficiency').quality).toBe('good')
  })
})

describe.each(['quennerby', 'ostrelby', 'skelderwath'])('%s, played by the simulator', (id) => {
  const isFlagged = (plant: ReturnType<typeof playPlant>) =>
    plant.figure('turbineEfficiency').reasons.some((reason) => reason.startsWith('not steady'))

  it('is never called unsteady in quiet running, whatever its instruments', () => {
    for (let seed = 1; seed <= 2; seed++) {
      const plant = playPlant(id, { seed })
      for (let tick = 0; tick < 100; tick++) {
        plant.run(0.2)
        expect(isFlagged(plant), `seed ${seed}, ${tick * 0.2} s`).toBe(false)
      }
    }
  })

  it('is called unsteady when the load is lost, and over-speed is raised as before', () => {
    const plant = playPlant(id)
    plant.run(5)
    plant.site.command('scenario', 'loadRejection')
    let flagged = 0
    for (let tick = 0; tick < 100; tick++) {
      plant.run(0.1)
      if (isFlagged(plant)) flagged++
    }
    expect(flagged).toBeGreaterThan(3)
    const raised = plant.journal.entries
      .filter((entry) => entry.event === 'raise')
      .map((entry) => entry.alarm)
    expect(raised).toContain('over-speed-110')
  })
})
