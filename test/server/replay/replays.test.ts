import { beforeEach, describe, expect, it } from 'vitest'
import type { SceneChange } from '../../../server/push/scene.ts'
import { createReplays, MOST_REPLAYS, type Replays } from '../../../server/replay/replays.ts'
import { type ManualClock, manualClock, START } from '../../support/manualClock.ts'
import { recordHistory } from '../../support/recordedHistory.ts'

const recording = recordHistory('quennerby', { seconds: 20 })
const SPAN = { from: START + 5000, to: START + 20_000, by: 'A' }
const TWO_HOURS = 2 * 3_600_000

describe('createReplays', () => {
  let clock: ManualClock
  let shown: [scene: string, change: SceneChange][]
  let viewers: number
  let replays: Replays

  beforeEach(() => {
    clock = manualClock(START + 60_000)
    shown = []
    viewers = 0
    replays = createReplays({
      history: recording.history,
      clock,
      show: (scene, change) => shown.push([scene.id, change]),
      watching: () => viewers,
    })
  })

  const start = (span = SPAN) => replays.start(recording.live, span)

  it('shows each replay under a name that no plant can have', () => {
    start()
    replays.tick()
    expect(shown.map(([id]) => id)).toEqual(['replay:1'])
    expect(replays.scene('replay:1')?.stamp()?.replay).toMatchObject({ by: 'A', isPaused: true })
    expect(replays.scene('quennerby')).toBeUndefined()
  })

  it('never sends an alarm', async () => {
    start()
    replays.control(1, { isPaused: false, speed: 16 })
    for (let i = 0; i < 20; i++) {
      await Promise.resolve()
      clock.advance(200)
      replays.tick()
    }
    expect(shown.length).toBeGreaterThan(10)
    expect(shown.flatMap(([, { alarms }]) => alarms)).toEqual([])
  })

  it('refuses a span that is none, the future, and one that is too long', () => {
    expect(start({ ...SPAN, to: SPAN.from })).toMatchObject({ ok: false, status: 400 })
    expect(start({ ...SPAN, to: clock.now() + 1 })).toMatchObject({ ok: false, status: 400 })
    expect(start({ ...SPAN, from: SPAN.to - 32 * 86_400_000 })).toMatchObject({ ok: false, status: 400 })
  })

  it('refuses a speed and a figure that there are not, and changes nothing', () => {
    start()
    expect(replays.control(1, { speed: 3 })).toMatchObject({ ok: false, status: 400 })
    expect(replays.control(1, { speed: 8, hidden: ['nothing'] })).toMatchObject({ ok: false, status: 400 })
    expect(replays.list('quennerby')[0]).toMatchObject({ speed: 1, hidden: [] })
  })

  it('shows so many at once and no more', () => {
    for (let i = 0; i < MOST_REPLAYS; i++) expect(start().ok).toBe(true)
    expect(start()).toMatchObject({ ok: false, status: 409 })
    replays.end(1)
    expect(start().ok).toBe(true)
  })

  it('ends one that nobody watches or steers for two hours, and says so in its counter', () => {
    start()
    viewers = 1
    clock.advance(TWO_HOURS + 1)
    replays.tick()
    expect(replays.find(1).ok).toBe(true)
    viewers = 0
    clock.advance(TWO_HOURS + 1)
    replays.tick()
    expect(replays.find(1)).toMatchObject({ ok: false, status: 404 })
    expect(replays.queue().dropped).toBe(1)
  })
})
