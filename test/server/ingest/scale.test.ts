import { describe, expect, it } from 'vitest'
import { scaleValue } from '../../../server/ingest/scale.ts'
import { plantWith } from './ingestBench.ts'

const instrumentOf = (inside: string) => plantWith(`id: gauge, topic: t, ${inside}`).instruments[0]!

describe('scaleValue', () => {
  describe('for a loop current', () => {
    const loop = instrumentOf('unit: bar, range: [0, 4], scale: { kind: loop }')

    // y = low + (I − 4)/16 · span, by hand
    it.each([
      [4, 0],
      [12, 2],
      [20, 4],
      [3.8, -0.05],
      [20.5, 4.125],
    ])('%d mA is %d bar of 0 … 4 and good', (current, value) => {
      const scaled = scaleValue(loop, current)
      expect(scaled.value).toBeCloseTo(value, 12)
      expect(scaled.quality).toBe('good')
    })

    // Bands: NAMUR NE 43 (from memory).
    it.each([
      [0, 'bad'],
      [3.6, 'bad'],
      [3.61, 'uncertain'],
      [3.79, 'uncertain'],
      [20.51, 'uncertain'],
      [20.99, 'uncertain'],
      [21, 'bad'],
      [22, 'bad'],
      [-1, 'bad'],
    ])('%d mA is %s, with its current in the reason and the value kept', (current, quality) => {
      const scaled = scaleValue(loop, current)
      expect(scaled.quality).toBe(quality)
      expect(scaled.reason).toContain(`loop current ${current} mA`)
      expect(scaled.value).toBeCloseTo(((current - 4) / 16) * 4, 12)
    })
  })

  it('multiplies and adds where the scale is linear', () => {
    const linear = instrumentOf('unit: Cel, scale: { kind: linear, factor: 0.1, offset: -40 }')
    expect(scaleValue(linear, 650)).toEqual({ value: 25, quality: 'good' })
  })

  it('leaves numbers without a scale as they are', () => {
    expect(scaleValue(instrumentOf('unit: m'), 1.25)).toEqual({ value: 1.25, quality: 'good' })
  })

  describe('between points', () => {
    const points = instrumentOf('unit: L/s, scale: { kind: points, from: [0, 10, 20], to: [0, 2, 10] }')

    it.each([
      [0, 0],
      [5, 1],
      [10, 2],
      [15, 6],
      [20, 10],
    ])('%d becomes %d (hand calculation)', (raw, value) => {
      expect(scaleValue(points, raw)).toEqual({ value, quality: 'good' })
    })

    it.each([
      [21, 10.8, 'uncertain'],
      [21.1, 10.88, 'bad'],
      [-1, -0.2, 'uncertain'],
      [-5, -1, 'bad'],
    ])('%d is beyond them: the last line goes on to %d, %s', (raw, value, quality) => {
      const scaled = scaleValue(points, raw)
      expect(scaled.value).toBeCloseTo(value, 12)
      expect(scaled).toMatchObject({
        quality,
        reason: `raw value ${raw} is beyond the points 0 … 20 of its scale`,
      })
    })
  })
})
