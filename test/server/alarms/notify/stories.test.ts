import { describe, expect, it } from 'vitest'
import type { Told } from '../../../../server/alarms/notify/delivery.ts'
import { dispatchStep } from '../../../../server/alarms/notify/dispatch.ts'
import { dispatchStory, STORY_MS } from '../../../../server/alarms/notify/stories.ts'
import type { EpisodeStory } from '../../../../server/alarms/notify/story.ts'
import type { AlarmView } from '../../../../server/wire/alarm.ts'
import {
  happening,
  nothingEarlier,
  settingsOf,
  THREE_PEOPLE,
  WEDNESDAY,
} from '../../../support/notifyBench.ts'

const S = 1000
const settings = settingsOf(THREE_PEOPLE)
const at = (seconds: number) => ({ from: WEDNESDAY + seconds * S, to: WEDNESDAY + seconds * S })

function alarm(id: string, name: string, more: Partial<AlarmView> = {}): AlarmView {
  const { alarm: over } = happening({ alarm: { id, name, episode: 'grid-1', latching: true, ...more } })
  return over
}

const GRID = alarm('grid', 'Grid lost', {
  priority: 'low',
  figure: 'gridConnected',
  hasAmount: false,
  onset: at(0),
})
const OVER = alarm('over', 'Over-speed', { onset: at(0.4), after: 'grid', value: 185, peak: 197.7 })

function story(more: Partial<EpisodeStory> = {}): EpisodeStory {
  return {
    plant: { id: 'mill', name: 'Upper mill', timeZone: 'Europe/London', simulated: false },
    members: [GRID, OVER],
    standing: { open: ['Over-speed: latched', 'Mains relay: on'], acted: ['Mains relay'] },
    machine: 'At 46 % of rated speed and falling, without power.',
    before: { at: WEDNESDAY - 500, sentence: 'Making 89 kW.' },
    print: (_, value) => `${Math.round((value * 30) / Math.PI)} min⁻¹`,
    now: WEDNESDAY + STORY_MS,
    ...more,
  }
}

const raised = { ...happening(), alarm: OVER, episode: [GRID, OVER] }
const FIRST: Told[] = dispatchStep(raised, { settings, earlier: nothingEarlier(), now: WEDNESDAY }).add.map(
  (one) => ({ ...one, status: one.step === 0 ? 'sent' : 'waiting', attempts: 1 }),
)

function tell(wish: EpisodeStory, told = FIRST) {
  const context = { settings, earlier: nothingEarlier({ ofIncident: () => told }), now: wish.now }
  return dispatchStory(wish, told, context)
}

const OVER_AND_STILL = { open: [], acted: [] }

describe('what follows the first message', () => {
  it('comes once, with first cause, peak, duration, what acted and how it is now', () => {
    const [dispatch, ...more] = tell(story())
    expect(more).toEqual([])
    expect(dispatch!.add.map((one) => [one.recipient, one.kind])).toEqual([['anna', 'followed']])
    const { short, lines } = dispatch!.add[0]!.message
    expect(short).toBe(
      'Upper mill: Grid lost. Over-speed reached 1888 min⁻¹. Mains relay: on. At 14:00:30 GMT: At 46 % of rated speed and falling, without power.',
    )
    expect(lines).toContain('Machine before (13:59:59 GMT): Making 89 kW.')
    expect(lines).toContain('14:00:00 GMT Over-speed, reached 1888 min⁻¹: active, not acknowledged')
    const rungs = dispatch!.amend.map((one) => one.message.short)
    expect(rungs).toEqual(
      Array(3).fill(
        'NOT ACKNOWLEDGED: Upper mill: Grid lost. Over-speed reached 1888 min⁻¹. Shut the inlet valve by hand.',
      ),
    )
    const told = [...FIRST, { ...dispatch!.add[0]!, status: 'sent' as const, attempts: 1 }]
    expect(tell(story({ now: WEDNESDAY + 600 * S }), told)).toEqual([])
  })

  it('waits until half a minute has passed, and stays away where there is nothing more to tell', () => {
    expect(tell(story({ now: WEDNESDAY + STORY_MS - 1 }))).toEqual([])
    const alone = { ...OVER, peak: OVER.value }
    const standing = { open: ['Over-speed: active'], acted: [] }
    expect(tell(story({ members: [alone], standing }))).toEqual([])
  })

  it('is the text of a first message that still waits for the end of quiet hours', () => {
    const later = WEDNESDAY + 3_600_000
    const waiting = FIRST.map((one) => ({ ...one, status: 'waiting' as const, attempts: 0, dueAt: later }))
    const [dispatch] = tell(story(), waiting)
    expect(dispatch!.add).toEqual([])
    expect(dispatch!.amend[0]!.message.short).toMatch(/^Upper mill: Grid lost\./)
  })
})

describe('that it is over', () => {
  const returned = [GRID, OVER].map((one) => ({
    ...one,
    active: false,
    state: 'returnedUnacknowledged' as const,
    returnedAt: WEDNESDAY + 20 * S,
  }))

  it('is told with peak and duration when nothing of it stands any more', () => {
    const [dispatch] = tell(
      story({ members: returned, standing: OVER_AND_STILL, machine: 'The shaft stands still.' }),
    )
    const { short, lines } = dispatch!.add[0]!.message
    expect(short).toBe(
      'Over: Upper mill: Grid lost. Over-speed reached 1888 min⁻¹. Lasted 20 s. At 14:00:30 GMT: The shaft stands still.',
    )
    expect(lines).toContain('Nobody has acknowledged it yet.')
  })

  it('is never told while anything of it is latched, tripped or turning, for a day', () => {
    for (const open of ['Over-speed: latched', 'Mains relay: on', 'At 5 % of rated speed and falling'])
      for (const hours of [0.1, 1, 24]) {
        const wish = story({
          members: returned,
          standing: { open: [open], acted: [] },
          now: WEDNESDAY + hours * 3_600_000,
        })
        expect(tell(wish).flatMap((one) => one.add.map(({ kind }) => kind))).toEqual(['followed'])
      }
  })
})
