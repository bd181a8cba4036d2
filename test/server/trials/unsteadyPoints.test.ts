import { describe, expect, it } from 'vitest'
import { efficiencyDischarge } from '../../../server/trials/definitions/efficiencyDischarge.ts'
import type { RunReply } from '../../../server/wire/trial.ts'
import { START } from '../../support/manualClock.ts'
import type { RecordedTrial } from '../../support/recordedTrial.ts'
import { readPoints, recordTrial, STEP_MS } from '../../support/recordedTrial.ts'
import { efficiencyInstruments, efficiencyMoves } from '../../support/rigOperator.ts'
import { unsteadyPoints } from '../../support/unsteadyPoints.ts'

describe('the automatic capture, held against the true state of the rig', () => {
  it('takes no point while the state moves', async () => {
    const recording = recordTrial('quennerby', {
      seed: 3,
      moves: efficiencyMoves,
      instruments: efficiencyInstruments,
    })
    const reply = await readPoints(recording, { seed: 3, trial: 'efficiencyDischarge' })
    expect(reply.points.length).toBeGreaterThanOrEqual(6)
    expect(unsteadyPoints(reply, recording, efficiencyDischarge.steady)).toEqual([])
  }, 60_000)

  it('would be caught: a point over a ramp of 2 % is named, one over a ramp of 0.5 % is not', () => {
    const steps = 20_000 / STEP_MS
    const ramp = (rise: number) => Float64Array.from({ length: steps }, (_, i) => 1 + (rise * i) / steps)
    const point = { number: 4, from: START, at: START + 20_000 }
    const named = (rise: number) =>
      unsteadyPoints(
        { points: [point] } as unknown as RunReply,
        { columns: new Map([['netHead', ramp(rise)]]) } as unknown as RecordedTrial,
        { netHead: 0.01 },
      )
    expect(named(0.02)).toEqual([4])
    expect(named(0.005)).toEqual([])
  })
})
