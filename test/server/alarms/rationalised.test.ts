import { describe, expect, it } from 'vitest'
import { planPlant } from '../../../server/livePlant.ts'
import { createSite } from '../../../simulator/site.ts'

const SITES = ['quennerby', 'ostrelby', 'skelderwath']
const plants = SITES.map((id) => createSite(id).plant)
const alarms = plants.flatMap((plant) => plant.alarms.filter((one) => one.entry === 'alarm'))

describe('the alarms of the bundled sites, taken as a set', () => {
  it('say cause, consequence and action: what nobody can answer is no alarm', () => {
    const mute = plants.flatMap((plant) =>
      plant.alarms.filter((one) => !one.cause || !one.consequence || !one.action).map((one) => one.id),
    )
    expect(mute).toEqual([])
  })

  it('have few of high and some of medium priority (usual shares 5, 15 and 80 %, common practice, no source)', () => {
    const share = (priority: string) =>
      alarms.filter((one) => one.priority === priority).length / alarms.length
    expect(share('high')).toBeGreaterThan(0.02)
    expect(share('high')).toBeLessThan(0.08)
    expect(share('medium')).toBeGreaterThan(0.1)
    expect(share('medium')).toBeLessThan(0.2)
    expect(alarms.length).toBeGreaterThan(60)
  })

  it.each(plants)('of $id are in order, with the inputs watched and over-speed never shelved', (plant) => {
    const { settings, faults } = planPlant(plant)
    expect(faults).toEqual([])
    expect(settings.filter((one) => one.kind.isForSafety).map((one) => one.longestShelfMs)).toEqual([0, 0])
    expect(settings.filter((one) => one.kind.id === 'silent').length).toBe(1)
    expect(settings.filter((one) => one.figure === 'speed' && one.kind.id === 'stale').length).toBe(1)
    expect(settings.some((one) => one.id.startsWith('input-lost-'))).toBe(true)
    expect(settings.filter((one) => one.entry === 'notice').length).toBeGreaterThanOrEqual(2)
  })
})
