import { describe, expect, it } from 'vitest'
import { csvTable } from '../../../server/csv.ts'
import { createRandom } from '../../../server/statistics/bootstrap.ts'
import { startSteadiness, stepSteadiness, USUAL_WEIGHTS } from '../../../server/statistics/steadyState.ts'
import { coverageOf } from '../../../server/trials/capture/coverage.ts'
import { steadinessOf } from '../../../server/trials/capture/steadiness.ts'
import type { BestPoint } from '../../../server/wire/findings.ts'
import { createNormal } from '../../support/normal.ts'

const COUNT = 40
const LIMIT = { share: 0.01, usual: 100 }

/** Forty samples about 100 with noise of 0.2 %, to which `change` is added; the ratios ran in before. */
function trackOf(change: (i: number) => number) {
  const normal = createNormal(createRandom(11))
  const all = Array.from({ length: 2 * COUNT }, (_, i) => 100 + 0.2 * normal() + change(i - COUNT))
  let state = startSteadiness(all[0]!)
  const ratios = all.map((value, i) => {
    if (i > 0) state = stepSteadiness(state, value, USUAL_WEIGHTS)
    return state.ratio
  })
  return { values: all.slice(COUNT), ratios: ratios.slice(COUNT) }
}

describe('steadinessOf with limits of 1 %', () => {
  it.each([
    ['noise of 0.2 % about a constant', () => 0, 'steady'],
    ['a ramp of 2 % over the window', (i: number) => 0.05 * i, 'moving'],
    ['a step of 3 % in the last samples', (i: number) => (i > 37 ? 3 : 0), 'moving'],
    ['a swing of 3 %', (i: number) => 3 * Math.sin(i), 'scattering'],
    // amplitude 0.8 %: scatter and line stay within 1 %, only the ratio tells it from noise
    ['a slow swing of 0.8 %', (i: number) => 0.8 * Math.sin((2 * Math.PI * i) / 20), 'moving'],
  ])('calls %s %s', (_, change, expected) => {
    expect(steadinessOf(trackOf(change), LIMIT)).toBe(expected)
  })

  /** Share of 200 windows that are called steady; `sd` and φ of the noise, after a run-in. */
  function steadyShare(
    sd: number,
    correlation: number,
    change: (i: number, phase: number) => number,
  ): number {
    let steady = 0
    for (let seed = 1; seed <= 200; seed++) {
      const normal = createNormal(createRandom(seed))
      let noise = normal()
      const all = Array.from({ length: 2 * COUNT }, (_, i) => {
        noise = correlation * noise + Math.sqrt(1 - correlation ** 2) * normal()
        return 100 + sd * noise + change(i - COUNT, seed)
      })
      let state = startSteadiness(all[0]!)
      const ratios = all.map((value, i) => {
        if (i > 0) state = stepSteadiness(state, value, USUAL_WEIGHTS)
        return state.ratio
      })
      const track = { values: all.slice(COUNT), ratios: ratios.slice(COUNT) }
      if (steadinessOf(track, LIMIT) === 'steady') steady++
    }
    return steady / 200
  }
  const still = () => 0
  const swing = (amplitude: number, samples: number) => (i: number, phase: number) =>
    amplitude * Math.sin((2 * Math.PI * i) / samples + phase)

  const SELDOM = [0, 0.05] as const
  // what is right follows from how the windows are made
  it.each([
    { what: 'still, independent', sd: 0.4, phi: 0, change: still, steady: [0.95, 1] as const },
    { what: 'still but damped, 0.2 %', sd: 0.2, phi: 0.8, change: still, steady: [0.95, 1] as const },
    { what: 'still but damped, 0.4 %', sd: 0.4, phi: 0.8, change: still, steady: [0.72, 1] as const },
    { what: 'a swing of 1 % in 3 s', sd: 0.1, phi: 0, change: swing(1, 6), steady: SELDOM },
    { what: 'a swing of 1 % in 10 s', sd: 0.1, phi: 0, change: swing(1, 20), steady: SELDOM },
    { what: 'a swing of 0.6 % in 20 s', sd: 0.1, phi: 0, change: swing(0.6, 40), steady: SELDOM },
    { what: 'a step of 0.8 %', sd: 0.1, phi: 0, change: (i: number) => (i > 20 ? 0.8 : 0), steady: SELDOM },
    {
      what: 'settling',
      sd: 0.1,
      phi: 0,
      change: (i: number) => -1.5 * Math.exp(-(i + 1) / 10),
      steady: SELDOM,
    },
    // before the window something changed: its tail is no part of the steady state
    {
      what: 'the last 4 % of a change of 60 %, dying out in 1 s',
      sd: 0.1,
      phi: 0,
      change: (i: number) => -2.5 * Math.exp(-(i + 1) / 2),
      steady: SELDOM,
    },
    {
      what: 'a first sample 2 % off',
      sd: 0.1,
      phi: 0,
      change: (i: number) => (i < 1 ? 2 : 0),
      steady: SELDOM,
    },
    {
      what: 'a step of 0.8 % at the beginning',
      sd: 0.1,
      phi: 0,
      change: (i: number) => (i > 3 ? 0.8 : 0),
      steady: SELDOM,
    },
    {
      what: 'a ramp of 1.2 % of a damped one',
      sd: 0.2,
      phi: 0.8,
      change: (i: number) => (1.2 * i) / 39,
      steady: [0, 0.08] as const,
    },
    { what: 'a ramp of 1.5 %', sd: 0.2, phi: 0, change: (i: number) => (1.5 * i) / 39, steady: SELDOM },
  ])('accepts as often as it should: $what', ({ sd, phi, change, steady: [least, most] }) => {
    const share = steadyShare(sd, phi, change)
    expect(share).toBeGreaterThanOrEqual(least)
    expect(share).toBeLessThanOrEqual(most)
  })

  it('says nothing of a window with a gap', () => {
    const { values, ratios } = trackOf(() => 0)
    expect(steadinessOf({ values: values.with(5, Number.NaN), ratios }, LIMIT)).toBe('unknown')
  })
})

describe('coverageOf', () => {
  const places = { suggested: [1, 2, 3, 4], isStepped: false }
  const best: BestPoint = {
    x: 3.4,
    xLow: 3,
    xHigh: 4,
    y: 1,
    yLow: 1,
    yHigh: 1,
    isAtEnd: false,
    isOpen: false,
    isWide: false,
    parts: [[3, 4]],
    add: [],
  }

  it('begins where the range begins', () => {
    expect(coverageOf(places, [], null)).toMatchObject({ next: 1, why: 'the range begins here' })
  })

  it('goes to the widest gap', () => {
    expect(coverageOf(places, [1.1, 1.9], null)).toMatchObject({ next: 4, why: 'the widest gap' })
  })

  it('then wants three points within a tenth of the best one', () => {
    expect(coverageOf(places, [1, 2, 3, 4, 3.4], best).next).toBe(3.4)
    expect(coverageOf({ ...places, isStepped: true }, [1, 2, 3, 4, 3.4], best).next).toBe(3)
  })

  it('then wants repetitions, and is content with eight points', () => {
    expect(coverageOf(places, [1, 1, 2, 2, 3, 4, 4], null)).toMatchObject({ next: 3 })
    expect(coverageOf(places, [1, 1, 2, 2, 3, 3, 4, 4], null).next).toBeNull()
  })
})

describe('a table of comma-separated values', () => {
  it('quotes as RFC 4180 says and disarms what a spreadsheet would run', () => {
    const columns = { 'a,b': (row: number) => row, 'say "x"': () => '=1+1', empty: () => null }
    expect(csvTable([-1.5], columns)).toBe('"a,b","say ""x""",empty\r\n-1.5,\'=1+1,\r\n')
  })

  // From memory: where the list separator is the semicolon, quotes count at the beginning of a cell only.
  const splitAtSemicolons = (line: string) =>
    line.split(/[;\r\n\t]/).map((cell) => cell.replace(/^[\s"]+/, ''))

  it.each(['x;=1+1', 'x;=1+1;y', 'x; "=1+1"', 'a\n=1+1', 'a\t@SUM(A1)', '=1+1', '\t=1+1', ';+1'])(
    'has no cell that a spreadsheet splitting at semicolons would run: %j',
    (text) => {
      const cells = splitAtSemicolons(csvTable([text], { note: (row) => row, more: () => 'z' }))
      expect(cells.filter((cell) => /^[=+\-@]/.test(cell))).toEqual([])
    },
  )

  it('leaves a text with a semicolon and no formula as it is, in quotes', () => {
    expect(csvTable(['calm; dry'], { note: (row) => row })).toBe('note\r\n"calm; dry"\r\n')
  })
})
