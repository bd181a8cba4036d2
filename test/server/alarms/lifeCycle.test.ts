import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type AlarmEvent, isActive, nextState } from '../../../server/alarms/lifeCycle.ts'
import { type AnnouncedState, isUnacknowledged } from '../../../server/wire/alarm.ts'

// Source of the table: state diagram of IEC 62682:2014 / ISA-18.2-2016 (from memory; test/reference/README.md, 12.1).
const TABLE: [from: AnnouncedState, event: AlarmEvent, latching: boolean, to: AnnouncedState][] = [
  ['normal', 'raise', false, 'unacknowledged'],
  ['unacknowledged', 'acknowledge', false, 'acknowledged'],
  ['acknowledged', 'return', false, 'normal'],
  ['unacknowledged', 'return', false, 'returnedUnacknowledged'],
  ['returnedUnacknowledged', 'acknowledge', false, 'normal'],
  ['returnedUnacknowledged', 'raise', false, 'unacknowledged'],
  ['unacknowledged', 'return', true, 'latchedUnacknowledged'],
  ['acknowledged', 'return', true, 'latchedAcknowledged'],
  ['latchedUnacknowledged', 'acknowledge', true, 'latchedAcknowledged'],
  ['latchedAcknowledged', 'reset', true, 'normal'],
]

describe('nextState', () => {
  it.each(TABLE)('goes from %s by %s (latching %s) to %s', (from, event, latching, to) => {
    expect(nextState(from, event, latching)).toBe(to)
  })

  it('never clears a condition that holds, whatever people do', () => {
    for (const state of ['unacknowledged', 'acknowledged'] as const)
      for (const event of ['acknowledge', 'reset'] as const) {
        const next = nextState(state, event, true) ?? state
        expect(isActive(next)).toBe(true)
      }
  })

  it('follows a model of condition and acknowledgement through any sequence of events', () => {
    const events = fc.array(fc.constantFrom<AlarmEvent>('raise', 'return', 'acknowledge', 'reset'), {
      maxLength: 60,
    })
    fc.assert(
      fc.property(events, fc.boolean(), (sequence, latching) => {
        let state: AnnouncedState = 'normal'
        // The model knows only: does it hold, has someone seen it, is it latched.
        let holds = false
        let seen = true
        let latched = false
        for (const event of sequence) {
          state = nextState(state, event, latching) ?? state
          if (event === 'raise' && !holds) [holds, seen, latched] = [true, false, latching]
          if (event === 'return') holds = false
          if (event === 'acknowledge') seen = true
          if (event === 'reset' && !holds && seen) latched = false
          if (!holds && seen && !latching) latched = false
          expect(isActive(state)).toBe(holds)
          expect(isUnacknowledged(state)).toBe(!seen)
          expect(state === 'normal').toBe(!holds && seen && !latched)
        }
      }),
      { seed: 20261125 },
    )
  })
})
