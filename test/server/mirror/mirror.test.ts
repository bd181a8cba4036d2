import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { createFeed, type Feed, MOST_READINGS } from '../../../server/channel/feed.ts'
import type { ToPage } from '../../../server/channel/messages.ts'
import { systemClock } from '../../../server/clock.ts'
import { createIngest } from '../../../server/ingest/ingest.ts'
import type { Reading } from '../../../server/ingest/reading.ts'
import type { LivePlant } from '../../../server/livePlant.ts'
import { createMirror, type Mirror } from '../../../server/mirror/mirror.ts'
import type { ShownPlant } from '../../../server/mirror/shownPlant.ts'
import { createRandom } from '../../../simulator/random.ts'
import { createSite, type Site } from '../../../simulator/site.ts'
import { livePlantOf } from '../../support/livePlantOf.ts'
import { START } from '../../support/manualClock.ts'
import { memoryBroker } from '../../support/memoryBroker.ts'

const SOURCE = { connected: true, name: 'test', since: null }
const HEALTH = { faults: 0, unmapped: 0, storing: true }

/** A simulated plant watched, and a mirror of it behind clones of every message. */
class Mirrored {
  readonly site: Site
  readonly live: LivePlant
  readonly feed: Feed
  mirror: Mirror | undefined
  sent: ToPage[] = []
  /** False: messages are sent, but nobody takes them in. */
  isTaking = true
  now = START
  /** What stands between an instrument and the watch. */
  bend = (reading: Reading): Reading => reading
  private readonly broker = memoryBroker()

  constructor(id: string) {
    this.site = createSite(id, { seed: 3 })
    const clock = { ...systemClock, now: () => this.now, mono: () => this.now }
    this.live = livePlantOf(this.site.plant, {
      mono: clock.mono,
      onTransition: (plant, alarm) => this.feed.alarm(plant, alarm),
    })
    const plants = new Map([[id, this.live]])
    this.feed = createFeed({ plants: () => plants, source: () => SOURCE, health: () => HEALTH })
    createIngest({
      plants: [this.site.plant],
      broker: this.broker,
      clock,
      onReading: (sent) => {
        const reading = this.bend(sent)
        this.live.takeReading(reading)
        this.feed.takeReading(reading)
      },
    })
  }

  open(): void {
    this.feed.open((message) => {
      this.sent.push(message)
      if (this.isTaking) this.take(structuredClone(message))
    })
  }

  take(message: ToPage): void {
    if (message.kind === 'plants' && !this.mirror)
      this.mirror = createMirror(message, { tell: () => {}, clock: systemClock })
    else if (message.kind === 'plants' || message.kind === 'tick' || message.kind === 'alarm')
      this.mirror!.take(message)
    if (message.kind === 'tick') this.feed.taken(message.tick)
  }

  run(seconds: number): void {
    for (const end = this.now + seconds * 1000; this.now < end; ) {
      this.now += 20
      this.site.step(0.02)
      for (const one of this.site.messages(this.now)) this.broker.deliver({ ...one, receivedAt: this.now })
      if (this.now % 200 !== 0) continue
      this.live.tick(this.now)
      this.feed.tick(this.now)
    }
  }

  get shown(): ShownPlant {
    return this.mirror!.plants().get(this.live.plant.id)!
  }
}

const valuesOf = ({ plan, evaluator }: Pick<ShownPlant, 'plan' | 'evaluator'>) =>
  plan.nodes.map(({ index }) => ({
    id: plan.nodes[index]!.description.id,
    ...evaluator.view(index),
    contributions: [...evaluator.contributions(index)],
  }))

/** The alarms of a mirror are those of the watch as they were told last. */
const alarmsOf = (alarms: readonly object[]) => JSON.stringify(alarms)

// Both sides are held against each other: formulas and readings are the same, so every bit must be; no outside source.
describe('a mirrored plant', () => {
  it.each(['quennerby', 'ostrelby', 'skelderwath'])(
    'has the figures, state and alarms of the watch to the last bit at %s, through switching and a fault',
    (id) => {
      const one = new Mirrored(id)
      one.open()
      one.run(8)
      const [control] = one.site.plant.simulation!.controls
      if (control?.kind === 'switch') one.site.command(control.id, false)
      one.site.command('fault', `${one.site.plant.instruments[0]!.id}:lost`)
      for (let step = 0; step < 8; step++) {
        one.run(1)
        expect(valuesOf(one.shown)).toEqual(valuesOf(one.live))
        const { agreement: _, ...state } = one.shown.state()
        const { agreement: __, ...watched } = one.live.state() as ReturnType<ShownPlant['state']>
        expect(state).toEqual(watched)
        expect(alarmsOf(one.shown.alarms())).toBe(alarmsOf(one.live.board.views()))
      }
    },
  )

  it('begins in the middle with the readings, state and alarms of then, and is soon the same', () => {
    const one = new Mirrored('quennerby')
    one.run(20)
    one.open()
    expect(one.shown.alarms()).toEqual(one.live.board.views())
    const measured = one.live.plan.nodes.filter(({ kind }) => kind === 'measured')
    for (const { index } of measured)
      expect(one.shown.evaluator.value(index)).toBe(one.live.evaluator.value(index))
    expect(one.shown.state().since).toBe(one.live.state().since)
    one.run(0.2)
    expect(valuesOf(one.shown)).toEqual(valuesOf(one.live))
  })

  it.each(
    ['quennerby', 'ostrelby', 'skelderwath'].flatMap((id) => [1, 2, 3, 4].map((seed) => [id, seed] as const)),
  )(
    'never looks better than the watch at %s, whenever it begins, beside spikes and a frozen instrument (%d)',
    (id, seed) => {
      const random = createRandom(seed, id)
      const one = new Mirrored(id)
      const periodic = one.site.plant.instruments.filter(({ periodic, role }) => periodic && !role?.discrete)
      const frozen = periodic[Math.floor(random() * periodic.length)]!.id
      let stuck: number | undefined
      one.bend = (reading) => {
        if (reading.instrument === frozen && one.now > START + 8000) {
          stuck ??= reading.value
          return { ...reading, value: stuck }
        }
        return random() < 0.01 ? { ...reading, value: 3 * reading.value + 1 } : reading
      }
      one.run(10 + Math.ceil(20 * random()))
      one.open()
      for (let step = 0; step < 15; step++) {
        one.run(0.2)
        expect(valuesOf(one.shown)).toEqual(valuesOf(one.live))
        const { agreement: _, ...state } = one.shown.state()
        const { agreement: __, ...watched } = one.live.state() as ReturnType<ShownPlant['state']>
        expect(state).toEqual(watched)
      }
    },
  )
})

describe('what the watch tells', () => {
  let one: Mirrored
  beforeEach(() => {
    one = new Mirrored('quennerby')
    one.open()
    one.run(1)
  })
  afterEach(() => vi.restoreAllMocks())

  const ticks = () => one.sent.filter((message) => message.kind === 'tick')

  it('is merged while nobody takes it in: five ticks are under way, then one with everything', () => {
    one.isTaking = false
    one.sent = []
    one.run(4)
    expect(ticks()).toHaveLength(5)
    const waiting = one.feed.queue().length
    expect(waiting).toBeGreaterThan(100)
    one.isTaking = true
    for (const message of one.sent.splice(0)) one.take(message)
    one.run(0.2)
    const [tick] = ticks()
    expect(tick!.readings.value.length).toBeGreaterThan(waiting)
    expect(tick!.lost).toBe(0)
    const values = (plant: Pick<ShownPlant, 'plan' | 'evaluator'>) =>
      plant.plan.nodes
        .filter(({ kind }) => kind === 'measured')
        .map(({ index }) => plant.evaluator.value(index))
    expect(values(one.shown)).toEqual(values(one.live))
  })

  it('gives the oldest readings up at the limit, counts them, and tells of the gap', () => {
    one.isTaking = false
    one.run(2)
    const reading = one.live.evaluator.readings()[0]!
    for (let i = 0; i <= MOST_READINGS; i++) one.feed.takeReading({ ...reading, measuredAt: one.now })
    expect(one.feed.queue().dropped).toBeGreaterThanOrEqual(MOST_READINGS / 2)
    const lost = vi.fn()
    one.mirror!.happenings.lost.add(lost)
    one.isTaking = true
    for (const message of one.sent.splice(0)) if (message.kind === 'tick') one.take(message)
    one.run(0.2)
    expect(lost).toHaveBeenCalledWith(one.feed.queue().dropped)
  })

  it('keeps nothing while there is no page side', () => {
    one.feed.close()
    one.sent = []
    one.run(2)
    expect(one.sent).toEqual([])
    expect(one.feed.queue()).toMatchObject({ length: 0, dropped: 0 })
  })
})
