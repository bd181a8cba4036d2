import { describe, expect, it } from 'vitest'
import { type EventMemory, NOTHING_SEEN, observe } from '../../../../server/derive/counting/eventCounter.ts'

const HOLDS = { onMs: 10_000, offMs: 10_000, gapMs: 60_000 }

/** Judgements [seconds, condition] → the moments [s] at which events began. */
function events(judgements: [number, boolean | undefined][], holds = HOLDS): number[] {
  let memory: EventMemory = NOTHING_SEEN
  return judgements.flatMap(([seconds, condition]) => {
    const step = observe(memory, { at: seconds * 1000, condition }, holds)
    memory = step.memory
    return step.began === null ? [] : [step.began / 1000]
  })
}

describe('observe', () => {
  it('counts nothing for what went on before it looked', () => {
    expect(
      events([
        [0, true],
        [20, true],
      ]),
    ).toEqual([])
  })

  it('counts an event once it has held, from the moment it began', () => {
    expect(
      events([
        [0, false],
        [5, true],
        [10, true],
        [15, true],
        [40, true],
      ]),
    ).toEqual([5])
  })

  it('counts no flicker', () => {
    expect(
      events([
        [0, false],
        [5, true],
        [9, true],
        [10, false],
        [30, false],
      ]),
    ).toEqual([])
  })

  it('counts one event where the condition is lost for a moment', () => {
    expect(
      events([
        [0, false],
        [5, true],
        [20, true],
        [21, false],
        [24, true],
        [60, true],
      ]),
    ).toEqual([5])
  })

  it('counts the next event after it was absent long enough', () => {
    expect(
      events([
        [0, false],
        [5, true],
        [15, true],
        [20, false],
        [30, false],
        [40, true],
        [50, true],
      ]),
    ).toEqual([5, 40])
  })

  it('does not take a silence for holding', () => {
    expect(
      events([
        [0, false],
        [5, true],
        [100, true],
        [105, true],
        [110, true],
      ]),
    ).toEqual([100])
  })

  it('counts an event that began in a silence', () => {
    expect(
      events(
        [
          [0, false],
          [500, true],
        ],
        { ...HOLDS, onMs: 0 },
      ),
    ).toEqual([500])
  })

  it('changes nothing while nobody can tell, nor for a judgement of an earlier time', () => {
    expect(
      events(
        [
          [0, false],
          [5, undefined],
          [3, true],
          [4, undefined],
        ],
        { ...HOLDS, onMs: 0 },
      ),
    ).toEqual([3])
    const memory = { isOn: false, turningSince: null, at: 5000 }
    expect(observe(memory, { at: 5000, condition: true }, HOLDS)).toEqual({ memory, began: null })
  })
})
