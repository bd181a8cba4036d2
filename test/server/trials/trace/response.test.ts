import { describe, expect, it } from 'vitest'
import { measureResponse } from '../../../../server/trials/trace/reductions/response.ts'

/** Unit step response of x″ + 2ζx′ + x = 1 (natural frequency 1 rad/s), textbook closed form. */
function secondOrder(damping: number) {
  const damped = Math.sqrt(1 - damping ** 2)
  return (t: number) =>
    t < 0
      ? 0
      : 1 - Math.exp(-damping * t) * (Math.cos(damped * t) + (damping / damped) * Math.sin(damped * t))
}

const times = (rate: number) => Array.from({ length: 40 * rate + 1 }, (_, i) => i / rate - 2)

/** Last time at which the closed form is outside the band, by halving between points of a fine grid. */
function settlingByHand(x: (t: number) => number, band: number): number {
  const isOut = (t: number) => Math.abs(x(t) - 1) > band
  let low = 0
  for (let t = 0; t < 40; t += 1e-3) if (isOut(t)) low = t
  let high = low + 1e-3
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2
    if (isOut(middle)) low = middle
    else high = middle
  }
  return low
}

describe('measureResponse on the closed form of second order', () => {
  // overshoot exp(−πζ/√(1 − ζ²)), peak at π/√(1 − ζ²): textbooks of control, by hand
  it.each([0.2, 0.4, 0.5, 0.7])(
    'finds overshoot, time of the peak and settling with damping %d',
    (damping) => {
      const x = secondOrder(damping)
      const at = times(200)
      const response = measureResponse(at, at.map(x), { initial: 0, final: 1, band: 0.02 })
      const damped = Math.sqrt(1 - damping ** 2)
      expect(response.peak).toBeCloseTo(1 + Math.exp((-Math.PI * damping) / damped), 4)
      expect(response.peakAt).toBeCloseTo(Math.PI / damped, 1)
      expect(response.overshoot).toBeCloseTo(Math.exp((-Math.PI * damping) / damped), 4)
      expect(response.settling).toBeCloseTo(settlingByHand(x, 0.02), 3)
    },
  )

  it('finds 16.3 % and 8.08 s at damping 0.5, as its documentation says', () => {
    const at = times(500)
    const found = measureResponse(at, at.map(secondOrder(0.5)), { initial: 0, final: 1, band: 0.02 })
    expect(found.overshoot).toBeCloseTo(0.163, 3)
    expect(found.settling).toBeCloseTo(8.08, 2)
  })

  it('finds the same for a step downwards', () => {
    const at = times(100)
    const up = measureResponse(at, at.map(secondOrder(0.3)), { initial: 0, final: 1, band: 0.02 })
    const down = measureResponse(
      at,
      at.map((t) => 50 - 2 * secondOrder(0.3)(t)),
      { initial: 50, final: 48, band: 0.04 },
    )
    expect(down.overshoot).toBeCloseTo(up.overshoot!, 9)
    expect(down.settling).toBeCloseTo(up.settling!, 9)
  })

  it('says that a response does not settle when its last reading is outside', () => {
    const found = measureResponse([0, 1, 2], [0, 1, 0.5], { initial: 0, final: 1, band: 0.02 })
    expect(found.settling).toBeNull()
  })

  it('has no overshoot where there is no step, and settles at once in its band', () => {
    const found = measureResponse([0, 1, 2], [1, 1.001, 1], { initial: 1, final: 1, band: 0.02 })
    expect(found).toMatchObject({ overshoot: null, settling: 0 })
  })
})
