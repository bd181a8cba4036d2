import { describe, expect, it } from 'vitest'
import type { EventRecord } from '../../../../server/wire/event.ts'
import { START } from '../../../support/manualClock.ts'
import { type PlayedPlant, playPlant } from '../../../support/playedPlant.ts'

const PER_MINUTE = (2 * Math.PI) / 60

/** A load rejection of the rig, with a fault of its tachometer that began before. */
function rejectLoad(fault?: string): PlayedPlant {
  const rig = playPlant('quennerby', { ideal: true })
  rig.run(12)
  if (fault) rig.site.command('fault', fault)
  rig.run(3)
  rig.site.command('charger', false)
  rig.run(75)
  return rig
}

const overSpeeds = (rig: PlayedPlant) =>
  rig.journal.entries.filter((entry) => entry.event === 'raise' && entry.alarm.startsWith('over-speed'))
const only = (rig: PlayedPlant): EventRecord => [...rig.events.values()][0]!

describe('over-speed of the rig after a load rejection', () => {
  it.each(['speed:lost', 'speed:stuck'])(
    'is raised from frequency or voltage with the tachometer %s',
    (fault) => {
      const rig = rejectLoad(fault)
      expect(overSpeeds(rig).map((entry) => entry.alarm)).toContain('over-speed-110')
      const view = rig.live.board.views().find((alarm) => alarm.id === 'over-speed-110')!
      expect(view.peak).toBeGreaterThan(1650 * PER_MINUTE)
      expect(only(rig).peak!.witness).toMatch(/^the (frequency|voltage)$/)
    },
  )

  it('says that the tachometer is silent, as an alarm of its own', () => {
    const rig = playPlant('quennerby', { ideal: true })
    rig.run(12)
    rig.site.command('fault', 'speed:lost')
    rig.run(10)
    const lost = rig.journal.entries.filter((entry) => entry.event === 'raise').map((entry) => entry.alarm)
    expect(lost).toEqual(['tachometer-lost'])
    expect(rig.live.board.views().find((alarm) => alarm.id === 'over-speed-110')).toMatchObject({
      unknown: false,
      detail: expect.stringMatching(
        /^told by the frequency and the voltage; the tachometer is silent or bad$/,
      ),
    })
  })

  it('takes no more than the time between two messages, with any one witness', () => {
    const rig = rejectLoad()
    const [first] = overSpeeds(rig)
    // The sheet: 0.088 s to 110 % without losses; messages every 20 ms, the tachometer speaks every 50 ms.
    const rejectedAt = START + 15_000
    expect(first!.at - rejectedAt).toBeLessThan(250)
  })
})

describe('the record of that event', () => {
  const rig = rejectLoad()
  const event = only(rig)

  it('is one record, complete, from 10 s before to 60 s after', () => {
    expect(rig.events.size).toBe(1)
    expect(event.status).toBe('complete')
    expect(event.from).toBe(event.at - 10_000)
    const speed = event.channels.find((one) => one.quantity === 'speed')!
    expect(speed.at[0]).toBeLessThan(-9900)
    expect(speed.at.at(-1)).toBeGreaterThan(59_900)
  })

  it('keeps the tachometer at its full rate of 20 messages a second', () => {
    const speed = event.channels.find((one) => one.quantity === 'speed')!
    expect(speed.at.length).toBeGreaterThanOrEqual(69 * (1000 / 60))
    expect(speed.dropped).toBe(0)
  })

  it('has the peak of the machine itself, and the brake that tripped', () => {
    // independent: the simulator's own state, sampled every 2 ms in a second run of the same rejection
    const again = playPlant('quennerby', { ideal: true })
    again.run(15)
    again.site.command('charger', false)
    let highest = 0
    for (let i = 0; i < 1000; i++) {
      again.site.step(0.002)
      highest = Math.max(highest, again.truth('speed'))
    }
    expect(event.peak!.speed / highest).toBeCloseTo(1, 2)
    expect(event.peak!.witness).toBe('the tachometer')
    expect(event.story.join(' ')).toMatch(/Over-speed brake tripped 0\.\d\d s after it/)
  })

  it('tells what came first, what stood how before, and how long it was above its levels', () => {
    expect(event.story[0]).toMatch(
      /^Over-speed.*: peak 1\d\d % \(\d{4} min⁻¹\) at .*, told by the tachometer\.$/,
    )
    expect(event.story[1]).toMatch(
      /^First out: Over-speed 110 % at .*; then Over-speed 120 % 0\.\d\d s later/,
    )
    expect(event.story[2]).toMatch(/^One second before: 5\d\d W made, jet 1: yes/)
    const times = event.levels.map((one) => one.seconds)
    expect(times).toEqual([...times].sort((a, b) => b - a))
    expect(times[2]).toBeGreaterThan(0)
  })
})
