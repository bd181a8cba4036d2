import { expect, it } from 'vitest'
import { playPlant } from './playedPlant.ts'

/** Played with fewer looks than in life: messages every 200 ms and figures every second. */
const COARSE = { messageMs: 200, tickMs: 1000 }

/** A demo plant on a steady day. One file for each plant, so that they are played side by side. */
export function testSteadyHour(id: string): void {
  it(`${id} raises nothing within a steady hour: neither alarm nor notice nor flood`, () => {
    const plant = playPlant(id, {}, COARSE)
    plant.site.command('scenario', 'steadyDay')
    plant.run(3600)
    expect(plant.journal.entries.map(({ alarm, event }) => `${alarm} ${event}`)).toEqual([])
    const views = plant.live.board.views()
    expect(views.filter((view) => view.unknown).map((view) => view.id)).toEqual([])
    expect(plant.events.size).toBe(0)
  }, 300_000)
}
