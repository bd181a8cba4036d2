import { describe, expect, it } from 'vitest'
import { createDelay } from '../../../server/alarms/delay.ts'

describe('createDelay', () => {
  it('reports a condition only after it has held for the whole on-delay', () => {
    const delay = createDelay(1000, 0)
    expect([0, 500, 999, 1000].map((at) => delay.update(true, at))).toEqual([false, false, false, true])
  })

  it('begins the on-delay anew when the condition clears early', () => {
    const delay = createDelay(1000, 0)
    delay.update(true, 0)
    delay.update(false, 900)
    expect(delay.update(true, 1000)).toBe(false)
    expect(delay.update(true, 1999)).toBe(false)
    expect(delay.update(true, 2000)).toBe(true)
  })

  it('keeps a condition present until it has been gone for the whole off-delay', () => {
    const delay = createDelay(0, 500)
    expect(delay.update(true, 0)).toBe(true)
    expect(delay.update(false, 100)).toBe(true)
    expect(delay.update(false, 600)).toBe(false)
  })

  it('is immediate without delays', () => {
    const delay = createDelay(0, 0)
    expect(delay.update(true, 0)).toBe(true)
    expect(delay.update(false, 0)).toBe(false)
  })
})
