import { describe, expect, it } from 'vitest'
import type { TrialResult } from '../../../server/wire/findings.ts'
import { readPoints, recordTrial } from '../../support/recordedTrial.ts'
import { otherTrials } from '../../support/rigOperator.ts'

/** Does the trial on the simulated rig and gives its curve. */
async function curveOf(trial: string) {
  const { moves, instruments } = otherTrials[trial]!
  const recording = recordTrial('quennerby', { seed: 3, moves, instruments })
  const reply = await readPoints(recording, { seed: 3, trial })
  if (!reply.result.isFitted)
    throw new Error(`${reply.result.lacking} ${reply.points.length} ${JSON.stringify(reply.guidance)}`)
  return { reply, result: reply.result }
}

function fittedOf(result: TrialResult) {
  if (!result.isFitted) throw new Error(result.lacking)
  return result
}

describe('the other trials on the simulated rig', () => {
  // numbers: design sheet of the rig and what follows from it by hand
  it.each([
    ['nozzleLaw', { C_d: 0.94 }],
    // H = 36.0 − 0.708·Q² with Q in L/s
    ['pumpCurve', { H_0: 36, k: 0.7083e6 }],
    ['inverterEfficiency', { P_0: 9 }],
    // runaway at 2763 min⁻¹
    ['torqueSpeed', { T_0: 6.29, ω_r: (2763 * 2 * Math.PI) / 60, m: 1.5 }],
    ['voltageWithoutLoad', { k_e: (0.018 * 60) / (2 * Math.PI) }],
  ])(
    '%s finds the constants of the design sheet within their 95 %% intervals',
    async (trial, truth) => {
      const { result, reply } = await curveOf(trial)
      const { parameters } =
        result.parameters.length > 0 ? result : fittedOf(reply.findings.further[0]!.result)
      for (const [symbol, value] of Object.entries(truth)) {
        const found = parameters.find((one) => one.symbol === symbol)!
        expect(found.low, `${symbol} of ${trial}`).toBeLessThanOrEqual(value)
        expect(found.high, `${symbol} of ${trial}`).toBeGreaterThanOrEqual(value)
      }
    },
    60_000,
  )

  it('inverterEfficiency finds the best load, 309 W at 90.2 %, of losses 9 W + 5 % + 9.45e-5/W·P²', async () => {
    const best = (await curveOf('inverterEfficiency')).result.best!
    expect(best.xLow).toBeLessThan(308.6)
    expect(best.xHigh).toBeGreaterThan(308.6)
    expect(best.yLow).toBeLessThan(0.9023)
    expect(best.yHigh).toBeGreaterThan(0.9023)
  }, 60_000)

  it('efficiencySpeed finds the best speed, 1500 min⁻¹ at 24 m, and 70 % there', async () => {
    const best = (await curveOf('efficiencySpeed')).result.best!
    const rated = (1500 * 2 * Math.PI) / 60
    expect(best.xLow).toBeLessThan(rated)
    expect(best.xHigh).toBeGreaterThan(rated)
    expect(best.yLow).toBeLessThan(0.7)
    expect(best.yHigh).toBeGreaterThan(0.7)
  }, 60_000)
})
