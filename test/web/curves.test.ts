import { describe, expect, it } from 'vitest'
import { curveRange } from '../../web/plot/curveRange.ts'
import { figureAmount } from '../../web/view/trials/trialText.ts'

describe('curveRange', () => {
  const point = { x: 2, y: 0.7, ux: 0.1, uy: 0.05, isKept: true }

  it('is never empty, also where all that is drawn has one value', () => {
    const still = { points: [], curve: { x: [25, 25], y: [0, 0], low: [0, 0], high: [0, 0] } }
    const { x, y } = curveRange([still])
    expect(x[0]).toBeLessThan(25)
    expect(x[1]).toBeGreaterThan(25)
    expect(y[1]).toBeGreaterThan(y[0])
  })

  it('is 0 to 1 without points', () => {
    expect(curveRange([])).toEqual({ x: [0, 1], y: [0, 1] })
  })

  it('holds every point with its bars', () => {
    const { x, y } = curveRange([{ points: [point, { ...point, x: 3 }], curve: null, best: null }])
    expect(x[0]).toBeLessThan(1.9)
    expect(x[1]).toBeGreaterThan(3.1)
    expect(y[0]).toBeLessThan(0.65)
    expect(y[1]).toBeGreaterThan(0.75)
  })

  it('begins at zero where the points come near it', () => {
    expect(curveRange([{ points: [point, { ...point, x: 0.2 }], curve: null, best: null }]).x[0]).toBe(0)
  })
})

describe('figureAmount', () => {
  const head = { id: 'netHead', name: 'Net head', symbol: 'H', unit: 'm', viewUnit: 'm', rated: 24 } as const
  const description = { ...head, group: 'head', origin: 'derived', staleAfterMs: null } as const

  it('gives a tolerance the digits that it has', () => {
    expect(figureAmount(description, 0.48, true)).toBe('0.48\u00a0m')
    expect(figureAmount(description, 23.9612)).toBe('23.96\u00a0m')
  })
})
