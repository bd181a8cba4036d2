import { describe, expect, it } from 'vitest'
import { playPlant } from '../support/playedPlant.ts'

// The simulator shares with the server nothing but the plant file and constants of nature: two independent ways from
// the same physics to the same figure. The expected values are the simulator's own state.
const FIGURES: Record<string, readonly string[]> = {
  quennerby: [
    'netHead',
    'hydraulicPower',
    'shaftPower',
    'turbineEfficiency',
    'generatorEfficiency',
    'batteryPower',
  ],
  ostrelby: ['grossHead', 'netHead', 'hydraulicPower', 'waterToWireEfficiency', 'batteryPower'],
  skelderwath: ['grossHead', 'netHead', 'hydraulicPower', 'waterToWireEfficiency', 'turbineEfficiency'],
}

describe.each(Object.entries(FIGURES))('%s, played by the simulator', (id, figures) => {
  it('shows what the simulator holds to be true, with perfect instruments', () => {
    const plant = playPlant(id, { ideal: true })
    plant.run(60)
    for (const figure of figures) {
      const { value, quality, reasons } = plant.figure(figure)
      expect(value, `${figure} ${quality} ${reasons}`).not.toBeNull()
      expect(value! / plant.truth(figure), figure).toBeCloseTo(1, 2)
    }
  })

  it('shows it within the stated uncertainty, with instruments that err inside their class', () => {
    let inside = 0
    let all = 0
    for (let seed = 1; seed <= 8; seed++) {
      const plant = playPlant(id, { seed })
      plant.run(15)
      for (const figure of figures) {
        const { value, u95 } = plant.figure(figure)
        all++
        if (value !== null && Math.abs(value - plant.truth(figure)) <= (u95 ?? 0)) inside++
      }
    }
    // The figures of one seed share their instruments: three bad seeds of eight would be very unlikely (binomial, 1 in
    // 170). test/server/coverage.test.ts measures the share itself.
    expect(inside / all).toBeGreaterThanOrEqual(0.75)
  })

  it('accepts every message of the simulator and knows every topic', () => {
    const plant = playPlant(id)
    plant.run(10)
    expect(plant.ingest.counters()).toMatchObject({ faults: 0, outOfOrder: 0, future: 0 })
    expect(plant.ingest.unmapped()).toEqual([])
  })

  it('raises no alarm in a quiet minute', () => {
    const plant = playPlant(id)
    plant.run(60)
    expect(plant.journal.entries.filter((entry) => entry.event === 'raise')).toEqual([])
  })

  it('raises over-speed on a load rejection, with the peak', () => {
    const plant = playPlant(id)
    plant.run(5)
    plant.site.command('scenario', 'loadRejection')
    plant.run(60)
    const raised = plant.journal.entries.filter(
      (entry) => entry.event === 'raise' && /over-speed/.test(entry.alarm),
    )
    expect(raised.map((entry) => entry.alarm)).toContain('over-speed-110')
    const view = plant.live.board.views().find((alarm) => alarm.id === 'over-speed-110')!
    expect(view.peak).toBeGreaterThan(view.limit!)
  })
})
