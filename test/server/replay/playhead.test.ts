import { describe, expect, it } from 'vitest'
import { createPlayhead, SPEEDS } from '../../../server/replay/playhead.ts'

const SPAN = { from: 10_000, to: 70_000 }

describe('createPlayhead', () => {
  it.each(SPEEDS)('moves on %d recorded seconds a second', (speed) => {
    const head = createPlayhead(SPAN)
    head.setSpeed(speed)
    head.run()
    head.advance(0, SPAN.to)
    expect(head.advance(1000, SPAN.to)).toBe(10_000 + 1000 * speed)
  })

  it('stands at the beginning and paused until it is run', () => {
    const head = createPlayhead(SPAN)
    head.advance(0, SPAN.to)
    expect(head.advance(1000, SPAN.to)).toBe(10_000)
    expect(head.isPaused()).toBe(true)
  })

  it('waits for what is not read yet, and does not go back for it', () => {
    const head = createPlayhead(SPAN)
    head.run()
    head.advance(0, SPAN.to)
    expect(head.advance(500, 10_200)).toBe(10_200)
    expect(head.advance(1000, 9000)).toBe(10_200)
    expect(head.advance(1500, SPAN.to)).toBe(10_700)
  })

  it('pauses at the end, and begins anew when it is run there', () => {
    const head = createPlayhead(SPAN)
    head.setSpeed(16)
    head.run()
    for (let mono = 0; mono <= 5000; mono += 500) head.advance(mono, SPAN.to)
    expect([head.at(), head.isPaused()]).toEqual([70_000, true])
    head.run()
    expect(head.at()).toBe(10_000)
  })

  it('holds a jump within the span', () => {
    const head = createPlayhead(SPAN)
    head.jump(5)
    expect(head.at()).toBe(10_000)
    head.jump(1e12)
    expect(head.at()).toBe(70_000)
  })

  it('does not leap over what passed while the machine slept', () => {
    const head = createPlayhead(SPAN)
    head.run()
    head.advance(0, SPAN.to)
    expect(head.advance(30_000, SPAN.to)).toBe(11_000)
  })
})
