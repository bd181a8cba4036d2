import { describe, expect, it } from 'vitest'
import { idealSite, PER_MINUTE, run, set, truthOf } from './settle.ts'

/**
 * Times and runaway speeds come from the design sheets of our own sites. The sheets leave
 * bearings, windage and iron out; so do these runs. The last block shows what the losses change.
 */
const REJECT: Record<string, Record<string, boolean>> = {
  quennerby: { charger: false, protection: false },
  ostrelby: { village: false, dump: false, battery: false, protection: false },
  skelderwath: { grid: false, protection: false },
}

/** Seconds from the loss of load until the speed has grown by these factors, to within a step of 2 ms. */
function timesTo(id: string, factors: readonly number[], extra: Record<string, boolean> = {}): number[] {
  const site = idealSite(id, { rotationLosses: false })
  // The village takes nearly all, so that dump load and battery have no part in the rejection.
  set(site, { ...(id === 'ostrelby' ? { demand: 15, battery: false } : {}), ...extra })
  run(site, 20)
  const before = truthOf(site, 'speed')
  set(site, REJECT[id]!)
  const times: number[] = []
  for (let t = 0; times.length < factors.length && t < 60; ) {
    run(site, 0.002)
    t += 0.002
    while (times.length < factors.length && truthOf(site, 'speed') >= factors[times.length]! * before)
      times.push(t)
  }
  return times
}

describe('load rejection without protection', () => {
  const table = [
    ['quennerby', [0.088, 0.187, 0.602], {}],
    ['quennerby', [0.352, 0.747, 2.407], { flywheel: true }],
    ['ostrelby', [0.187, 0.398, 1.283], {}],
    ['skelderwath', [0.108, 0.231, 0.762], {}],
  ] as const
  it.each(table)('takes %s to 110, 120 and 150 %% in %j s as its sheet says', (id, sheet, extra) => {
    const times = timesTo(id, [1.1, 1.2, 1.5], extra)
    sheet.forEach((expected, i) => {
      // 3 %, and one step because the crossing lies inside it
      expect(Math.abs(times[i]! - expected)).toBeLessThanOrEqual(0.03 * expected + 0.002)
    })
  })

  const runaway = [
    ['quennerby', 2763, 30],
    ['ostrelby', 2763, 60],
    ['skelderwath', 1822, 60],
  ] as const
  it.each(runaway)('lets %s run away to %i min⁻¹', (id, sheet, seconds) => {
    const site = idealSite(id, { rotationLosses: false })
    run(site, 5)
    set(site, REJECT[id]!)
    run(site, seconds)
    expect(Math.abs(truthOf(site, 'speed') / PER_MINUTE / sheet - 1)).toBeLessThan(0.01)
  })

  it('makes runaway follow the head: at 13.5 m it is 3/4 of that at 24 m (root of the head, from memory)', () => {
    const site = idealSite('quennerby', { rotationLosses: false })
    set(site, { ...REJECT['quennerby'], head: 13.5 })
    run(site, 60)
    expect(truthOf(site, 'speed') / PER_MINUTE / 2763).toBeCloseTo(0.75, 2)
  })
})

describe('runaway with bearings, windage and iron', () => {
  it('stays where 6.29 N·m · (1 − x^1.5) meets 20 W · x^1.5 + 20 W · x (hand calculation from the sheet)', () => {
    // At x = n/1500: 6.29 · (1 − (x/1.842)^1.5) · 157.08 · x = 20·x^1.5 + 20·x, solved by halving.
    let low = 1
    let high = 1.842
    for (let i = 0; i < 60; i++) {
      const x = (low + high) / 2
      const surplus = 6.29 * (1 - (x / 1.842) ** 1.5) * 157.08 * x - 20 * x ** 1.5 - 20 * x
      if (surplus > 0) low = x
      else high = x
    }
    const site = idealSite('quennerby')
    set(site, REJECT['quennerby']!)
    run(site, 30)
    expect(truthOf(site, 'speed') / PER_MINUTE / 1500).toBeCloseTo(low, 2)
    expect(truthOf(site, 'speed') / PER_MINUTE).toBeLessThan(2763)
  })
})

describe('the hard-wired protection', () => {
  it('brakes the rig: the speed passes 120 % for an instant and falls', () => {
    const site = idealSite('quennerby')
    run(site, 2)
    set(site, { charger: false })
    let highest = 0
    for (let i = 0; i < 500; i++) {
      run(site, 0.01)
      highest = Math.max(highest, truthOf(site, 'speed') / PER_MINUTE)
    }
    expect(highest).toBeGreaterThan(1800)
    expect(highest).toBeLessThan(2000)
    expect(truthOf(site, 'tripped.1')).toBe(1)
    expect(truthOf(site, 'speed') / PER_MINUTE).toBeLessThan(1000)
  })

  it('turns the jet away at the off-grid plant, whose spears then close slowly', () => {
    const site = idealSite('ostrelby')
    run(site, 2)
    set(site, { village: false, dump: false, battery: false })
    run(site, 2)
    expect(truthOf(site, 'deflector')).toBe(1)
    expect(truthOf(site, 'needleStroke.1')).toBeGreaterThan(0.8)
    expect(truthOf(site, 'speed') / PER_MINUTE).toBeLessThan(2100)
    run(site, 20)
    expect(truthOf(site, 'discharge')).toBeLessThan(1e-4)
  })

  it('needs seconds at the mill, where the vanes fall shut within 8 s', () => {
    const site = idealSite('skelderwath')
    run(site, 2)
    set(site, { grid: false })
    run(site, 1)
    expect(truthOf(site, 'tripped.1')).toBe(1)
    expect(truthOf(site, 'guideVaneOpening.1')).toBeGreaterThan(0.8)
    expect(truthOf(site, 'speed') / PER_MINUTE).toBeGreaterThan(1400)
    run(site, 8)
    expect(truthOf(site, 'guideVaneOpening.1')).toBe(0)
  })

  it('is reset by the control, and the plant runs again', () => {
    const site = idealSite('skelderwath')
    set(site, { grid: false })
    run(site, 60)
    set(site, { reset: true })
    run(site, 1)
    expect(truthOf(site, 'tripped.1'), 'the grid is still away').toBe(1)
    set(site, { grid: true, reset: true })
    run(site, 120)
    expect(truthOf(site, 'gridConnected')).toBe(1)
    expect(truthOf(site, 'activePower')).toBeGreaterThan(85_000)
  })
})
