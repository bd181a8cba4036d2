import { beforeAll, describe, expect, it } from 'vitest'
import type { PointRunReply } from '../../../server/wire/trial.ts'
import { type RecordedTrial, readPoints, recordTrial, trueMovement } from '../../support/recordedTrial.ts'
import {
  efficiencyInstruments,
  efficiencyMoves,
  generatorInstruments,
  generatorMoves,
} from '../../support/rigOperator.ts'

const SEEDS = [1, 2, 3]
/** Design sheet of the rig: 18 mV per min⁻¹ of a phase, 0.28 Ω, 2.0 mH. */
const MACHINE: Record<string, number> = { k_e: (0.018 * 60) / (2 * Math.PI), R: 0.28, L: 2e-3 }
/** The same sheet: efficiency 0.62, 0.685, 0.70, 0.70 with 1 to 4 jets of 0.901 L/s; flat from 3 jets to 4. */
const BEST = { efficiency: 0.7, from: 3 * 0.901e-3, to: 4 * 0.9013e-3 }

function fitted(reply: PointRunReply) {
  if (!reply.result.isFitted) throw new Error(reply.result.lacking)
  return reply.result
}

describe('the generator trial on the simulated rig', () => {
  let recording: RecordedTrial
  let runs: PointRunReply[]
  beforeAll(async () => {
    recording = recordTrial('quennerby', {
      seed: 1,
      moves: generatorMoves,
      instruments: generatorInstruments,
    })
    runs = await Promise.all(
      SEEDS.map((seed) => readPoints(recording, { seed, trial: 'generatorCharacteristic' })),
    )
  }, 120_000)

  it('takes one point for every state that the operator sets', () => {
    expect(runs.map((run) => run.points.length)).toEqual(SEEDS.map(() => generatorMoves.length))
  })

  it('finds voltage constant, resistance and inductance of the design sheet within their 95 % intervals', () => {
    for (const run of runs)
      for (const { symbol, low, high } of fitted(run).parameters) {
        expect(low, symbol).toBeLessThanOrEqual(MACHINE[symbol]!)
        expect(high, symbol).toBeGreaterThanOrEqual(MACHINE[symbol]!)
      }
  })

  it('gives intervals that are worth having: 1 % for the constant, 5 % for what is the slope of a meter of 0.35 %', () => {
    for (const { symbol, value, low, high } of fitted(runs[0]!).parameters)
      expect((high - low) / 2 / value, symbol).toBeLessThan(symbol === 'k_e' ? 0.01 : 0.05)
  })

  it('takes no point while speed or current really move (limits 0.5 % and 1.5 %)', () => {
    for (const run of runs)
      for (const point of run.points) {
        expect(trueMovement(recording, 'speed', point)).toBeLessThan(0.005)
        expect(trueMovement(recording, 'phaseCurrent.1', point)).toBeLessThan(0.015)
      }
  })

  it('puts the accuracy of the meter, which no averaging reduces, above the scatter of a mean', () => {
    const voltage = runs[0]!.points[5]!.figures.find((figure) => figure.id === 'meanPhaseVoltage')!
    // 0.2 % of about 25 V and 0.05 % of 75 V over √3, one calibration for all phases: (0.05 + 0.0375)/√3 = 0.051 V
    expect(voltage.typeB).toBeCloseTo(0.0508, 3)
    expect(voltage.typeA).toBeLessThan(voltage.typeB)
    expect(Object.keys(voltage.contributions)).toEqual(['meter-voltage'])
  })
})

describe('the efficiency trial on the simulated rig', () => {
  let recording: RecordedTrial
  let runs: PointRunReply[]
  beforeAll(async () => {
    recording = recordTrial('quennerby', {
      seed: 2,
      moves: efficiencyMoves,
      instruments: efficiencyInstruments,
    })
    runs = await Promise.all(
      SEEDS.map((seed) => readPoints(recording, { seed, trial: 'efficiencyDischarge' })),
    )
  }, 120_000)

  it('finds the best point of the design sheet within its 95 % interval', () => {
    for (const run of runs) {
      const best = fitted(run).best!
      expect(best.xLow).toBeLessThanOrEqual(BEST.to)
      expect(best.xHigh).toBeGreaterThanOrEqual(BEST.from)
      expect(best.yLow).toBeLessThanOrEqual(BEST.efficiency)
      expect(best.yHigh).toBeGreaterThanOrEqual(BEST.efficiency)
    }
  })

  it('finds it in unit quantities too, Q11 = Q/(D²·√H) with D = 0.123 m and H = 24 m', () => {
    const unit = 0.123 ** 2 * Math.sqrt(24)
    for (const { unitResult } of runs) {
      if (!unitResult?.isFitted) throw new Error('no curve in unit quantities')
      expect(unitResult.best!.xLow).toBeLessThanOrEqual(BEST.to / unit)
      expect(unitResult.best!.xHigh).toBeGreaterThanOrEqual(BEST.from / unit)
    }
  })

  it('takes repeated states only when asked to, and says which point they repeat', () => {
    expect(runs[0]!.points.map((point) => point.repeatOf)).toEqual([null, null, null, null, 4, 3, 2, 1])
  })

  it('names settings by the switches', () => {
    expect(runs[0]!.points.slice(0, 4).map((point) => point.setting)).toEqual([
      'jets 1',
      'jets 1, 2',
      'jets 1, 2, 3',
      'jets 1, 2, 3, 4',
    ])
  })

  it('takes no point while head, discharge or speed really move (limits 1, 1.5 and 0.5 %)', () => {
    for (const run of runs)
      for (const point of run.points) {
        expect(trueMovement(recording, 'netHead', point)).toBeLessThan(0.01)
        expect(trueMovement(recording, 'discharge', point)).toBeLessThan(0.015)
        expect(trueMovement(recording, 'speed', point)).toBeLessThan(0.005)
      }
  })
})
