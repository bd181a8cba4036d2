import { beforeAll, describe, expect, it } from 'vitest'
import type { TraceView } from '../../../../server/wire/trace.ts'
import type { TraceRunReply } from '../../../../server/wire/trial.ts'
import { START } from '../../../support/manualClock.ts'
import type { RecordedTrial } from '../../../support/recordedTrial.ts'
import { readTraces, recordTrial, STEP_MS } from '../../../support/recordedTrial.ts'
import { reduceSeeded } from '../../../support/seededTraces.ts'
import {
  balanceInstruments,
  balanceMoves,
  loadStepInstruments,
  loadStepMoves,
  rejectionInstruments,
  rejectionMoves,
} from '../../../support/traceMoves.ts'

function amountOf({ result }: Pick<TraceView, 'result'>, id: string) {
  if (!result?.isReduced) throw new Error(result?.lacking ?? 'no result')
  return result.amounts.find((one) => one.id === id)!
}

/** Mean of a true value between two times [ms UTC]. */
function trueMean({ columns }: RecordedTrial, quantity: string, [from, to]: [number, number]): number {
  const part = columns.get(quantity)!.subarray((from - START) / STEP_MS, (to - START) / STEP_MS)
  return part.reduce((sum, value) => sum + value, 0) / part.length
}

describe('the load step trial at the simulated off-grid plant', () => {
  let recording: RecordedTrial
  let reply: TraceRunReply
  beforeAll(async () => {
    recording = recordTrial('ostrelby', { seed: 1, moves: loadStepMoves, instruments: loadStepInstruments })
    reply = await readTraces(recording, { seed: 1, trial: 'loadStep' })
  }, 60_000)

  it('records every load that is switched, and aligns it to its contact', () => {
    const switched = [40, 60, 80, 100, 120, 140]
    expect(reply.traces).toHaveLength(switched.length)
    reply.traces.forEach(({ result }, i) => {
      if (!result?.isReduced) throw new Error('not reduced')
      expect(Math.abs(result.zeroAt - START - switched[i]! * 1000)).toBeLessThanOrEqual(100)
    })
  })

  it('names the step, the frequency before and after, and the share of the dump load as they really were', () => {
    for (const trace of reply.traces) {
      if (!trace.result?.isReduced) throw new Error('not reduced')
      const { zeroAt } = trace.result
      const [before, after]: [number, number][] = [
        [zeroAt - 3000, zeroAt],
        [trace.endedAt! - 3000, trace.endedAt!],
      ]
      const load = trueMean(recording, 'loadPower', after!) - trueMean(recording, 'loadPower', before!)
      // 1 % of a meter of 25 kW, and means of three readings of a wandering demand
      expect(Math.abs(amountOf(trace, 'step').value! - load)).toBeLessThan(200)
      // 1 min⁻¹ of the tachometer is 0.033 Hz
      expect(amountOf(trace, 'before').value).toBeCloseTo(trueMean(recording, 'frequency', before!), 1)
      expect(amountOf(trace, 'final').value).toBeCloseTo(trueMean(recording, 'frequency', after!), 1)
      const share = trueMean(recording, 'dumpPower', after!) / 18_000
      expect(Math.abs(amountOf(trace, 'dumpAfter').value! - share)).toBeLessThan(0.02)
    }
  })

  it('finds the droop of the controller: 1.5 Hz over 18 kW (design sheet of Ostrelby)', () => {
    for (const trace of reply.traces) {
      const dump = amountOf(trace, 'dumpAfter').value! - amountOf(trace, 'dumpBefore').value!
      expect(Math.abs(amountOf(trace, 'steadyChange').value! / dump - 1.5)).toBeLessThan(0.15)
    }
  })

  it('puts steps of one size together, with mean and scatter', () => {
    const changes = reply.together.amounts.filter(({ id }) => id.startsWith('steadyChange'))
    expect(changes.map(({ id, count }) => [id, count])).toEqual([
      ['steadyChange +25 %', 2],
      ['steadyChange −25 %', 2],
      ['steadyChange −50 %', 1],
      ['steadyChange +50 %', 1],
    ])
    expect(changes[0]!.deviation).toBeGreaterThan(0)
    expect(changes[2]!.deviation).toBeNull()
  })

  it('says when the dump load is full and the frequency runs free', () => {
    // all dwellings off at full water is 15 kW of 18: only with a dump load said to be smaller is it full
    const known = {
      ...recording.plant,
      constants: new Map(recording.plant.constants).set('dump.ratedPower', 15_000),
    }
    const { results } = reduceSeeded(recording, {
      seed: 1,
      trial: 'loadStep',
      known,
      traces: [{ from: 112, triggered: 120.5, to: 129 }],
    })
    expect(results[1]).toMatchObject({ remarks: [expect.stringMatching(/could take no more/)] })
  })
})

describe('the load rejection trial on the simulated rig', () => {
  it('finds highest speed, time constant and inertia of the design sheet within its intervals', async () => {
    const recording = recordTrial('quennerby', {
      seed: 1,
      moves: rejectionMoves,
      instruments: rejectionInstruments,
    })
    const reply = await readTraces(recording, { seed: 1, trial: 'loadRejection' })
    expect(reply.traces.map((one) => one.ending)).toEqual(['complete', 'complete', 'complete'])
    const of = (id: string) => reply.together.amounts.find((one) => one.id === id)!
    // design sheet of the rig: 0.020 kg·m²; T_m = J·ω²/P with 1500 min⁻¹ and 513 W
    expect(of('inertia').low).toBeLessThan(0.02)
    expect(of('inertia').high).toBeGreaterThan(0.02)
    const constant = (0.02 * ((1500 * 2 * Math.PI) / 60) ** 2) / 513
    expect(of('timeConstant').low).toBeLessThan(constant)
    expect(of('timeConstant').high).toBeGreaterThan(constant)
    const first = reply.traces[0]!
    const places = [first.triggeredAt, first.endedAt!].map((time) => (time - START) / STEP_MS)
    const highest = Math.max(...recording.columns.get('speed')!.subarray(...places))
    // 1 min⁻¹ of the tachometer
    expect(Math.abs(amountOf(first, 'peak').value! - highest)).toBeLessThan(0.15)
    expect(first.result).toMatchObject({ remarks: [expect.stringMatching(/still rising/)] })
  }, 60_000)

  it('begins no trace before the five seconds that a trace keeps from before have been quiet', async () => {
    const [settle, off] = rejectionMoves
    const moves = [settle!, off!, { settings: { charger: true }, seconds: 4 }, off!]
    const recording = recordTrial('quennerby', { seed: 1, moves, instruments: rejectionInstruments })
    const { traces } = await readTraces(recording, { seed: 1, trial: 'loadRejection' })
    expect(traces.map(({ triggeredAt }) => Math.ceil((triggeredAt - START) / 1000))).toEqual([31])
  }, 60_000)
})

describe('the battery balance on the simulated rig', () => {
  let recording: RecordedTrial
  const OPEN = 300
  const all = () => recording.columns.get('batteryCurrent')!.length * (STEP_MS / 1000)
  /** True charge in and out between two times [C]. */
  const truth = (from: number, to: number) => {
    const part = recording.columns
      .get('batteryCurrent')!
      .subarray((from * 1000) / STEP_MS, (to * 1000) / STEP_MS)
    const sum = (pick: (one: number) => number) =>
      (part.reduce((total, one) => total + pick(one), 0) * STEP_MS) / 1000
    return { in: sum((one) => Math.max(0, one)), out: sum((one) => Math.max(0, -one)) }
  }
  beforeAll(() => {
    recording = recordTrial('quennerby', {
      seed: 2,
      moves: balanceMoves(690),
      instruments: balanceInstruments,
    })
  }, 60_000)
  const balance = (seed: number, to: number) => {
    const { results } = reduceSeeded(recording, {
      seed,
      trial: 'batteryBalance',
      traces: [{ from: 1, triggered: 1, to }],
    })
    return { result: results[1]! }
  }

  it('counts charge in and out within its 95 % interval of the truth on 19 of 20 sets of instruments', () => {
    const seeds = Array.from({ length: 20 }, (_, i) => i + 1)
    const { in: charged, out: discharged } = truth(1, all())
    const holds = seeds.filter((seed) => {
      const found = balance(seed, all())
      const isNear = (id: string, value: number) =>
        Math.abs(amountOf(found, id).value! - value) <= amountOf(found, id).u95! + 10
      return isNear('chargeIn', charged) && isNear('chargeOut', discharged)
    })
    expect(holds.length).toBeGreaterThanOrEqual(18)
  })

  it('states what the shunt may be off by, which does not average out', () => {
    // 0.25 % of the reading and 0.05 % of 100 A over √3, for 1.96 standard deviations
    const { in: charged } = truth(1, all())
    const time = all() - 600
    const expected = (1.96 * (0.0025 * charged + 0.05 * time)) / Math.sqrt(3)
    expect(amountOf(balance(1, all()), 'chargeIn').u95! / expected).toBeCloseTo(1, 1)
  })

  it('tells no efficiency before the state of charge has returned, and how far it is from there', () => {
    const found = balance(1, OPEN)
    expect(amountOf(found, 'coulombic')).toMatchObject({ value: null, words: 'not closed' })
    const missing = truth(1, OPEN)
    const hours = ((missing.out - missing.in) / 3600).toFixed(1)
    expect(found.result).toMatchObject({
      remarks: [
        expect.stringMatching(new RegExp(`^Not closed: ended ${hours.slice(0, 2)}.* Ah below the start`)),
      ],
    })
  })

  it('finds 99 % in charge (design sheet of the simulated cells) within its interval once it is closed', () => {
    const found = balance(3, all())
    const { value, u95 } = amountOf(found, 'coulombic')
    expect(value).not.toBeNull()
    expect(Math.abs(value! - 0.99)).toBeLessThanOrEqual(u95!)
    const energetic = amountOf(found, 'energetic').value!
    expect(energetic).toBeLessThan(value!)
  })

  it('counts nothing across a gap, and says what share of the time was counted', () => {
    const { results } = reduceSeeded(recording, {
      seed: 1,
      trial: 'batteryBalance',
      traces: [{ from: 1, triggered: 1, to: all() }],
      without: [{ from: 100, to: 160 }],
    })
    const found = { result: results[1]! }
    expect(amountOf(found, 'counted').value).toBeCloseTo(1 - 60 / (all() - 1), 3)
    const { out } = truth(1, all())
    const gap = truth(100, 160).out
    expect(Math.abs(amountOf(found, 'chargeOut').value! - (out - gap))).toBeLessThan(
      amountOf(found, 'chargeOut').u95! + 20,
    )
    expect(found.result).toMatchObject({
      remarks: [expect.any(String), expect.stringMatching(/60 s without readings were not counted/)],
    })
  })
})
