import { describe, expect, it } from 'vitest'
import { causePathsOf, periodOf } from '../../../../server/alarms/episodes/causePaths.ts'
import { planPlant } from '../../../../server/livePlant.ts'
import { createSite } from '../../../../simulator/site.ts'

const { plant } = createSite('skelderwath')
const { plan, settings } = planPlant(plant)
const pathOf = causePathsOf(plan, settings)

describe('the ways from alarm to alarm of a plant on the grid', () => {
  it('lead from the lost grid to the speed by what happens, not only by the group', () => {
    expect(pathOf('grid-lost', 'over-speed-120')).toEqual(
      expect.objectContaining({ why: 'a machine without its load speeds up', pace: 'minute' }),
    )
  })

  it('let a rack lower the water as long as it is blocked', () => {
    expect(pathOf('rack-blocked', 'headwater-low')).toMatchObject({ pace: 'while' })
  })

  it('do not lead from rack to winding, nor from an alarm to a lost input', () => {
    expect(pathOf('rack-blocked', 'winding-hot')).toBeUndefined()
    expect(pathOf('over-speed-120', 'tachometer-lost')).toBeUndefined()
  })

  it('take lost inputs together only where they stop at one moment', () => {
    expect(pathOf('tachometer-lost', 'telemetry-silent')).toMatchObject({ pace: 'together' })
  })

  it('know how seldom a figure comes: by its slowest instrument, and at once for what is sent on change', () => {
    // site file: speed each 100 ms, rack each 5 s, the contact of the grid on change
    expect(['speed', 'rackDifferential', 'gridConnected'].map((id) => periodOf(plan, id))).toEqual([
      100, 5000, 0,
    ])
  })
})
