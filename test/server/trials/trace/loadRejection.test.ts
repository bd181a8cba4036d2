import { describe, expect, it } from 'vitest'
import { trials } from '../../../../server/trials/definitions/index.ts'
import { methodOf } from '../../../../server/trials/runMethod.ts'
import { loadRejection } from '../../../../server/trials/trace/reductions/loadRejection.ts'
import { createSite } from '../../../../simulator/site.ts'
import { livePlantOf } from '../../../support/livePlantOf.ts'
import { taking } from '../../../support/trialBench.ts'

const TRIGGERED = 10_000
const BEFORE = 150
/** A runner whose torque falls along a straight line with speed reaches its runaway speed exponentially. */
const RUNAWAY = 230
const SECONDS = 1.5

/** Readings of a tachometer every 50 ms, its last digit 0.1 min⁻¹. */
function rejection(speedAt: (seconds: number) => number) {
  const at = Array.from({ length: 300 }, (_, i) => 50 * i)
  const column = (value: (seconds: number) => number) => ({
    at,
    value: at.map((time) => value((time - TRIGGERED) / 1000)),
    doubtful: [],
  })
  return {
    number: 1,
    triggeredAt: TRIGGERED,
    endedAt: 15_000,
    series: {
      speed: column((seconds) => Math.round(speedAt(seconds) * 95.5) / 95.5),
      activePower: column((seconds) => (seconds < 0 ? 300 : 0)),
    },
  }
}

const bump = (seconds: number) => (Math.abs(seconds + 1) < 0.02 ? 0.006 * BEFORE : 0)
const rising = (seconds: number) =>
  seconds < 0 ? BEFORE : BEFORE + (RUNAWAY - BEFORE) * (1 - Math.exp(-seconds / SECONDS))

describe('the slope after a load was lost', () => {
  const { plant } = createSite('quennerby', { seed: 1 })
  const method = taking(
    'traces',
    methodOf(trials.find((one) => one.id === 'loadRejection')!, livePlantOf(plant).plan),
  )
  const read = (speedAt: (seconds: number) => number) =>
    loadRejection.one(rejection(speedAt), { method, typed: [] })
  const slopeOf = (speedAt: (seconds: number) => number) => {
    const result = read(speedAt)
    if (!result.isReduced) throw new Error(result.lacking)
    return result.amounts.find(({ id }) => id === 'slope')!.value
  }

  // d/dt of the exponential at 0: (runaway − before)/time constant
  const slope = (RUNAWAY - BEFORE) / SECONDS

  it('is that of the exponential at its beginning', () => {
    expect(Math.abs(slopeOf(rising)! / slope - 1)).toBeLessThan(0.02)
  })

  it('does not begin with a spike before', () => {
    expect(slopeOf((seconds) => rising(seconds) + bump(seconds))).toBe(slopeOf(rising))
  })

  it('is none where the power fell for another reason', () => {
    const falling = (seconds: number) => BEFORE - 2 * Math.max(0, seconds) + bump(seconds)
    expect(read(falling)).toEqual({ isReduced: false, lacking: expect.stringContaining('did not rise') })
  })

  it.each<[what: string, keep: (seconds: number) => boolean]>([
    ['falls silent at the rejection', (seconds) => seconds < 0],
    ['was silent before it', (seconds) => seconds > -2],
    ['speaks every 6 s', (seconds) => Math.abs(seconds % 6) < 0.02],
  ])('is not denied when the tachometer %s', (_what, keep) => {
    const trace = rejection(rising)
    const { at, value } = trace.series.speed
    const kept = at.map((_, i) => i).filter((i) => keep((at[i]! - TRIGGERED) / 1000))
    const speed = { at: kept.map((i) => at[i]!), value: kept.map((i) => value[i]!), doubtful: [] }
    const result = loadRejection.one({ ...trace, series: { ...trace.series, speed } }, { method, typed: [] })
    expect(result).toEqual({ isReduced: false, lacking: expect.stringContaining('Too few readings') })
  })
})
