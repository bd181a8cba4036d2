import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Alarm, createAlarm } from '../../../server/alarms/alarm.ts'
import type { ConditionState } from '../../../server/alarms/inputs.ts'
import type { AlarmSetting, ConditionWatcher } from '../../../server/alarms/kinds/kind.ts'
import { high } from '../../../server/alarms/kinds/level.ts'

const SHELF_MS = 1000

/** An alarm whose condition is set by the test. */
function playedAlarm(latching: boolean): { alarm: Alarm; tell: (holds: boolean | undefined) => void } {
  let condition: ConditionState = { holds: false, value: 1, at: 0, quality: 'good' }
  const watcher: ConditionWatcher = { isWorse: (a, b) => a > b, judge: () => condition }
  const setting: AlarmSetting = {
    id: 'a',
    name: 'A',
    entry: 'alarm',
    kind: high,
    figure: 'x',
    condition: 'as told',
    priority: 'high',
    latching,
    onDelayMs: 0,
    offDelayMs: 0,
    group: null,
    longestShelfMs: SHELF_MS,
    isRecorded: false,
    texts: {},
    uses: [],
    open: () => watcher,
  }
  return {
    alarm: createAlarm(setting, { isSimulated: false, periodMs: 0, watcher }),
    tell(holds) {
      condition = {
        holds,
        value: holds === undefined ? Number.NaN : 1,
        at: 0,
        quality: holds === undefined ? 'bad' : 'good',
      }
    },
  }
}

type Happening =
  | { kind: 'condition'; holds: boolean | undefined }
  | { kind: 'idle'; isIdle: boolean }
  | { kind: 'act'; event: 'acknowledge' | 'reset' | 'unshelve' | 'takeOut' | 'putBack' | 'shelve' }
  | { kind: 'time'; ms: number }

const happening: fc.Arbitrary<Happening> = fc.oneof(
  fc.record({ kind: fc.constant('condition' as const), holds: fc.constantFrom(true, false, undefined) }),
  fc.record({ kind: fc.constant('idle' as const), isIdle: fc.boolean() }),
  fc.record({
    kind: fc.constant('act' as const),
    event: fc.constantFrom('acknowledge', 'reset', 'unshelve', 'takeOut', 'putBack', 'shelve'),
  }),
  fc.record({ kind: fc.constant('time' as const), ms: fc.integer({ min: 1, max: 700 }) }),
)

/**
 * The model knows facts, not states: does it hold, has somebody seen it, does somebody owe a reset, is it off the
 * list. Source: the states A to I of IEC 62682 / ISA-18.2 (from memory), with what the module says it adds: a latch
 * outlives shelving, suppression never hides what is not answered, what nobody can judge stays as it was.
 */
class Model {
  told: boolean | undefined = false
  holds = false
  announced = false
  seen = true
  latched = false
  idle = false
  shelvedUntil: number | null = null
  out = false
  now = 0
  readonly latching: boolean
  constructor(latching: boolean) {
    this.latching = latching
  }

  isOff = () => this.out || this.shelvedUntil !== null

  takeIn(one: Happening): void {
    if (one.kind === 'condition') this.told = one.holds
    if (one.kind === 'idle') this.idle = one.isIdle
    if (one.kind === 'time') this.now += one.ms
    if (one.kind === 'act') this.actUpon(one.event)
    if (this.shelvedUntil !== null && this.now >= this.shelvedUntil) this.shelvedUntil = null
    if (this.idle) this.holds = false
    else if (this.told !== undefined) this.holds = this.told
    if (!this.isOff()) this.announce()
  }

  private announce(): void {
    if (this.holds && !this.announced) {
      this.seen = false
      this.latched = this.latching
    }
    this.announced = this.holds
    if (!this.announced && this.seen && !this.latching) this.latched = false
  }

  private actUpon(event: string): void {
    if (event === 'shelve' && !this.isOff()) this.takeOff(() => (this.shelvedUntil = this.now + SHELF_MS))
    else if (event === 'takeOut' && !this.out)
      this.takeOff(() => ([this.out, this.shelvedUntil] = [true, null]))
    else if (event === 'unshelve') this.shelvedUntil = null
    else if (event === 'putBack') this.out = false
    else if (event === 'acknowledge' && !this.isOff()) this.seen = true
    else if (event === 'reset' && !this.isOff() && !this.announced && this.seen) this.latched = false
  }

  private takeOff(mark: () => void): void {
    this.announced = false
    if (!this.latched) this.seen = true
    mark()
  }

  state(): string {
    if (this.out) return 'outOfService'
    if (this.shelvedUntil !== null) return 'shelved'
    if (this.announced) return this.seen ? 'acknowledged' : 'unacknowledged'
    if (this.latched) return this.seen ? 'latchedAcknowledged' : 'latchedUnacknowledged'
    if (!this.seen) return 'returnedUnacknowledged'
    return this.idle ? 'suppressed' : 'normal'
  }
}

describe('createAlarm', () => {
  it('walks any sequence of events as a model of facts does', () => {
    fc.assert(
      fc.property(fc.array(happening, { maxLength: 80 }), fc.boolean(), (sequence, latching) => {
        const { alarm, tell } = playedAlarm(latching)
        const model = new Model(latching)
        let isIdle = false
        let now = 0
        for (const one of sequence) {
          if (one.kind === 'condition') tell(one.holds)
          if (one.kind === 'idle') isIdle = one.isIdle
          if (one.kind === 'time') now += one.ms
          if (one.kind === 'act') {
            const who = { by: 'Ada', at: now, note: 'test' }
            const action =
              one.event === 'shelve' ? { event: one.event, until: now + SHELF_MS } : { event: one.event }
            alarm.act(action, who, now)
          }
          alarm.tick({ now, mono: now, isIdle, quietMs: 0 })
          model.takeIn(one)
          const view = alarm.view()
          expect([one, view.state]).toEqual([one, model.state()])
          expect(view.active).toBe(model.holds)
          expect(view.unknown).toBe(!isIdle && model.told === undefined)
          expect(view.shelvedUntil).toBe(model.shelvedUntil)
        }
      }),
      { seed: 20261125, numRuns: 500 },
    )
  })

  it('says in the journal what it shows: each step begins where the one before ended', () => {
    fc.assert(
      fc.property(fc.array(happening, { maxLength: 60 }), (sequence) => {
        const { alarm, tell } = playedAlarm(true)
        let now = 0
        let last = 'normal'
        for (const one of sequence) {
          now += 10
          if (one.kind === 'condition') tell(one.holds)
          const acted =
            one.kind !== 'act'
              ? []
              : alarm.act(
                  one.event === 'shelve' ? { event: 'shelve', until: now + SHELF_MS } : { event: one.event },
                  { by: 'Ada', at: now },
                  now,
                )
          for (const step of [...acted, ...alarm.tick({ now, mono: now, isIdle: false, quietMs: 0 })]) {
            expect(step.from).toBe(last)
            last = step.to
          }
          expect(alarm.view().state).toBe(last)
        }
      }),
      { seed: 20261125, numRuns: 200 },
    )
  })

  it('comes off the shelf by itself, and what holds by then is raised anew', () => {
    const { alarm, tell } = playedAlarm(false)
    alarm.act({ event: 'shelve', until: 1000 }, { by: 'Ada', at: 0, note: 'sensor is being cleaned' }, 0)
    tell(true)
    expect(alarm.tick({ now: 999, mono: 999, isIdle: false, quietMs: 0 })).toEqual([])
    expect(alarm.view()).toMatchObject({ state: 'shelved', active: true, withheld: { by: 'Ada' } })
    const steps = alarm.tick({ now: 1000, mono: 1000, isIdle: false, quietMs: 0 })
    expect(steps.map(({ event, to }) => [event, to])).toEqual([
      ['shelfExpired', 'normal'],
      ['raise', 'unacknowledged'],
    ])
  })

  it('comes off the shelf in time although the wall clock was set back by a day', () => {
    const { alarm } = playedAlarm(false)
    alarm.act({ event: 'shelve', until: 100_001_000 }, { by: 'Ada', at: 100_000_000 }, 0)
    alarm.tick({ now: 13_600_000, mono: 999, isIdle: false, quietMs: 0 })
    expect(alarm.view().state).toBe('shelved')
    alarm.tick({ now: 13_601_000, mono: 1001, isIdle: false, quietMs: 0 })
    expect(alarm.view().state).toBe('normal')
  })

  it('remembers a shelving across a restart', () => {
    const { alarm } = playedAlarm(false)
    alarm.act({ event: 'shelve', until: 5000 }, { by: 'Ada', at: 0, note: 'why' }, 0)
    const { setting } = alarm
    const watcher = setting.open({} as never)
    const again = createAlarm(setting, { isSimulated: false, periodMs: 0, watcher, memory: alarm.memory() })
    again.tick({ now: 4000, mono: 50, isIdle: false, quietMs: 0 })
    expect(again.view()).toMatchObject({ state: 'shelved', shelvedUntil: 5000 })
    again.tick({ now: 5000, mono: 60, isIdle: false, quietMs: 0 })
    expect(again.view().state).toBe('normal')
  })
})
