import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Delivery } from '../../../../server/alarms/notify/delivery.ts'
import { dispatchStep, dispatchWorse } from '../../../../server/alarms/notify/dispatch.ts'
import { alarmMessage } from '../../../../server/alarms/notify/message.ts'
import {
  type HappeningWish,
  happening,
  nothingEarlier,
  settingsOf,
  THREE_PEOPLE,
  WEDNESDAY,
} from '../../../support/notifyBench.ts'

const MINUTE = 60_000
const context = (yaml = THREE_PEOPLE, earlier = nothingEarlier(), now = WEDNESDAY) => ({
  settings: settingsOf(yaml),
  earlier,
  now,
})
const brief = ({ recipient, step, dueAt, kind }: Delivery) => [
  recipient,
  step,
  (dueAt - WEDNESDAY) / MINUTE,
  kind,
]

const asTold = (delivery: Delivery) => ({ ...delivery, status: 'waiting' as const, attempts: 0 })

const QUIET = THREE_PEOPLE.replace(
  '    to: [anna]\n',
  "    to: [anna]\n    quietHours: { from: '22:00', to: '07:00' }\n",
)
/** Wednesday 23:30 in London. */
const NIGHT = Date.UTC(2026, 10, 25, 23, 30)

describe('the dispatch of an alarm that is raised', () => {
  it('tells the first person at once and the others after their time, as long as nobody acknowledges', () => {
    expect(dispatchStep(happening(), context()).add.map(brief)).toEqual([
      ['anna', 0, 0, 'raised'],
      ['bert', 1, 10, 'raised'],
      ['bert', 2, 20, 'raised'],
      ['cleo', 2, 20, 'raised'],
    ])
  })

  it('ends the ladder when somebody acknowledges, and reminds after half an hour that it is still active', () => {
    const dispatch = dispatchStep(
      happening({ event: 'acknowledge', alarm: { state: 'acknowledged' } }),
      context(),
    )
    expect(dispatch.end).toMatchObject([{ plant: 'mill', alarm: 'over', what: 'ladder' }])
    expect(dispatch.add.map(brief)).toEqual([['anna', 0, 30, 'stillActive']])
  })

  it('starts no second ladder for an alarm that comes and goes, so that the first one is never put off', () => {
    const first = dispatchStep(happening(), context()).add.map(asTold)
    const earlier = nothingEarlier({ ofIncident: () => first })
    const again = happening({ from: 'returnedUnacknowledged', at: WEDNESDAY + MINUTE })
    expect(dispatchStep(again, context(THREE_PEOPLE, earlier, WEDNESDAY + MINUTE)).add).toEqual([])
  })

  it('tells an episode once, and a graver alarm of it at once, with its text on the rungs that wait', () => {
    const mild = happening({ priority: 'medium', alarm: { id: 'over110', name: 'Over 110' } })
    const first = dispatchStep(mild, context()).add.map(asTold)
    const earlier = nothingEarlier({ ofIncident: () => first })
    const both = (more: HappeningWish) => ({
      ...happening(more),
      episode: [mild.alarm, happening(more).alarm],
    })
    const tell = (more: HappeningWish) => dispatchStep(both(more), context(THREE_PEOPLE, earlier))
    expect(tell({ priority: 'medium', alarm: { id: 'relay' } }).add).toEqual([])
    const graver = tell({ alarm: { id: 'over120', name: 'Over 120' } })
    expect(graver.add.map(brief)).toEqual([['anna', 0, 0, 'raised']])
    expect(graver.amend.map(({ recipient, step }) => [recipient, step])).toEqual([
      ['bert', 1],
      ['bert', 2],
      ['cleo', 2],
    ])
    expect(graver.amend[0]!.message.short).toMatch(/^NOT ACKNOWLEDGED: Upper mill: Over 120/)
  })

  it('ends the calls of an episode with the last of its alarms that was answered', () => {
    const other = happening({ priority: 'medium', alarm: { id: 'relay' } }).alarm
    const acknowledged = happening({ event: 'acknowledge', alarm: { state: 'acknowledged' } })
    const open = dispatchStep({ ...acknowledged, episode: [acknowledged.alarm, other] }, context())
    expect(open.end).toEqual([])
    const answered = { ...other, state: 'acknowledged' as const }
    const last = dispatchStep({ ...acknowledged, episode: [acknowledged.alarm, answered] }, context())
    expect(last.end.map(({ alarm, what }) => [alarm, what])).toEqual([
      ['over', 'ladder'],
      ['relay', 'ladder'],
    ])
  })

  it('starts the ladder again for an acknowledged alarm that gets worse', () => {
    const dispatch = dispatchWorse(happening({ alarm: { state: 'acknowledged' } }), 2, context())
    expect(dispatch.add.map(brief).slice(0, 2)).toEqual([
      ['anna', 0, 0, 'worse'],
      ['bert', 1, 10, 'worse'],
    ])
  })

  it('goes over each way only for the priorities that are meant for it', () => {
    const yaml = THREE_PEOPLE.replace(
      'to: anna@plant.example }',
      'to: anna@plant.example, priorities: [high] }',
    )
    expect(
      dispatchStep(happening({ priority: 'medium' }), context(yaml)).add.map((one) => one.recipient),
    ).not.toContain('anna')
    expect(dispatchStep(happening(), context(yaml)).add.map((one) => one.recipient)).toContain('anna')
  })

  it('makes one message of all measurements that are lost together at a plant, and none for lesser alarms', () => {
    const lost = (id: string, name: string, priority: 'medium' | 'low' = 'medium') =>
      happening({ priority, alarm: { id, name, tellsOfLoss: true, group: 'inputs', priority } })
    const first = dispatchStep(lost('input-lost-speed', 'Input lost: speed'), context())
    expect(first.add).toHaveLength(1)
    expect(first.add[0]!.priority).toBe('high')
    const earlier = nothingEarlier({ waiting: (id) => first.add.find((one) => one.id === id) })
    const second = dispatchStep(
      lost('input-lost-bearing', 'Input lost: bearing temperature'),
      context(THREE_PEOPLE, earlier),
    )
    expect(second.add).toEqual([])
    expect(second.amend[0]!.message.lines).toEqual(['Input lost: speed.', 'Input lost: bearing temperature.'])
    expect(dispatchStep(lost('input-lost-lamp', 'Input lost: lamp', 'low'), context()).add).toEqual([])
  })
})

describe('quiet hours', () => {
  it('hold a medium alarm back until they end in the time zone of the plant', () => {
    const dispatch = dispatchStep(
      happening({ priority: 'medium', at: NIGHT }),
      context(QUIET, nothingEarlier(), NIGHT),
    )
    expect(new Date(dispatch.add[0]!.dueAt).toISOString()).toBe('2026-11-26T07:00:00.000Z')
    // 23:30 in London is 17:30 in Chicago, where the evening has just begun
    const there = happening({ priority: 'medium', at: NIGHT, timeZone: 'America/Chicago' })
    expect(dispatchStep(there, context(QUIET, nothingEarlier(), NIGHT)).add[0]!.dueAt).toBe(NIGHT)
  })

  it('never hold back or shorten high priority, at any hour of the year (property)', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date('2026-01-01'), max: new Date('2026-12-31'), noInvalidDate: true }),
        fc.constantFrom('raise' as const, 'return' as const),
        (date, event) => {
          const now = date.getTime()
          const wish = { event, at: now }
          const loud = dispatchStep(happening(wish), context(THREE_PEOPLE, nothingEarlier(), now))
          const quiet = dispatchStep(happening(wish), context(QUIET, nothingEarlier(), now))
          expect(quiet).toEqual(loud)
        },
      ),
    )
  })
})

describe('the rate cap', () => {
  const CAPPED = `${THREE_PEOPLE}rate: { most: 2, per: 1 h }`
  const full = nothingEarlier({ countSince: () => 2 })

  it('leaves out what is beyond it and says how many at the end of the hour', () => {
    const dispatch = dispatchStep(happening({ priority: 'medium' }), context(CAPPED, full))
    const anna = dispatch.add.find((one) => one.recipient === 'anna')!
    expect(anna).toMatchObject({ kind: 'suppressed', dueAt: WEDNESDAY + 60 * MINUTE })
    expect(anna.message.short).toMatch(/^1 message was suppressed/)
    const next = nothingEarlier({
      countSince: () => 2,
      waiting: (id) => dispatch.add.find((one) => one.id === id),
    })
    const more = dispatchStep(happening({ priority: 'medium', at: WEDNESDAY + 1 }), context(CAPPED, next))
    expect(more.amend[0]!.message.short).toMatch(/^2 messages were suppressed/)
  })

  it('lets high priority pass always', () => {
    expect(dispatchStep(happening(), context(CAPPED, full)).add.map((one) => one.kind)).toEqual(
      Array(4).fill('raised'),
    )
  })
})

describe('the digest', () => {
  const DIGEST = `${THREE_PEOPLE}digest: { at: '07:00', to: [bert] }`

  it('gathers low priority into one message for the next morning of the plant', () => {
    const first = dispatchStep(happening({ priority: 'low' }), context(DIGEST))
    expect(first.add.map((one) => [one.recipient, one.kind, new Date(one.dueAt).toISOString()])).toEqual([
      ['bert', 'digest', '2026-11-26T07:00:00.000Z'],
    ])
    const earlier = nothingEarlier({ waiting: (id) => first.add.find((one) => one.id === id) })
    const second = dispatchStep(happening({ priority: 'low', event: 'return' }), context(DIGEST, earlier))
    expect(second.amend[0]!.message.lines).toEqual([
      '14:00:00 GMT Over-speed: 1770 min⁻¹',
      '14:00:00 GMT Over-speed: back to normal',
    ])
  })
})

describe('every plan (property)', () => {
  const events = fc.constantFrom('raise', 'return', 'acknowledge', 'reset', 'shelve', 'takeOut' as const)
  const priorities = fc.constantFrom('high', 'medium', 'low' as const)

  it('is the same for the same input, has ids of its own for each path and rung, and sends nothing early', () => {
    fc.assert(
      fc.property(events, priorities, fc.integer({ min: 0, max: 1e9 }), (event, priority, after) => {
        const now = WEDNESDAY + after
        const wish = { event: event as 'raise', priority: priority as 'high', at: now }
        const yaml = `${QUIET}digest: { at: '07:00', to: [bert] }`
        const dispatch = dispatchStep(happening(wish), context(yaml, nothingEarlier(), now))
        expect(dispatchStep(happening(wish), context(yaml, nothingEarlier(), now))).toEqual(dispatch)
        expect(new Set(dispatch.add.map((one) => one.id)).size).toBe(dispatch.add.length)
        for (const one of dispatch.add) expect(one.dueAt).toBeGreaterThanOrEqual(now)
      }),
    )
  })
})

describe('the first 160 characters', () => {
  it('give plant, what, value with unit, local time and what to do', () => {
    expect(alarmMessage('raised', happening(), 0).short).toBe(
      'Upper mill: Over-speed 1770 min⁻¹ at 14:00:00 GMT. Shut the inlet valve by hand.',
    )
    const summer = happening({ at: Date.UTC(2026, 6, 1, 14) })
    expect(alarmMessage('raised', summer, 1).short).toMatch(/^NOT ACKNOWLEDGED: Upper mill: .*15:00:00 BST/)
  })

  it('are never more, and never cut a line break or half a character in (property)', () => {
    const text = fc.string({ unit: 'grapheme', maxLength: 300 })
    fc.assert(
      fc.property(text, text, text, (name, alarmName, action) => {
        const what = happening({ alarm: { name: alarmName, action } })
        const { short } = alarmMessage('raised', { ...what, plant: { ...what.plant, name } }, 0)
        expect(short.length).toBeLessThanOrEqual(160)
        expect(short).not.toMatch(/[\n\r\0]/)
        expect(() => encodeURIComponent(short)).not.toThrow()
      }),
    )
  })
})
