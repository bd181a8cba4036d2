import { describe, expect, it } from 'vitest'
import { constantPaths, constantUnit } from '../../../server/plant/constants.ts'
import { createSite } from '../../../simulator/site.ts'

describe('the constants of a plant', () => {
  it.each(['quennerby', 'ostrelby', 'skelderwath'])('at %s are all known with their units', (id) => {
    const { plant } = createSite(id)
    expect(plant.constants.size).toBeGreaterThan(20)
    expect([...plant.constants.keys()].filter((path) => !constantPaths.includes(path))).toEqual([])
  })

  it('have the unit that their field in the schema has, also inside a section and behind a default', () => {
    const units = ['site.elevations.inletGauge', 'site.waterTemperature', 'generator.phases'].map(
      constantUnit,
    )
    expect(units).toEqual(['m', 'K', '1'])
  })
})
