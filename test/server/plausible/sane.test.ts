import { describe, expect, it } from 'vitest'
import { readPlantFiles } from '../../../server/plantFiles.ts'
import { doubtsAbout } from '../../../server/plausible/index.ts'
import { createRandom } from '../../../server/statistics/bootstrap.ts'
import { plantOf } from '../../support/plants.ts'
import { saneMachine } from '../../support/saneMachines.ts'

const DRAWS = 1000

describe('a plant file without a slip', () => {
  it.each(['quennerby', 'ostrelby', 'skelderwath'])('has no doubtful entry: %s', (site) => {
    const read = readPlantFiles([`simulator/sites/${site}.yaml`])
    expect('plants' in read && read.plants.map(({ doubts }) => doubts)).toEqual([[]])
  })

  it('has none in 99 of 100 machines drawn within what the trade builds', () => {
    const random = createRandom(7)
    const doubtful = Array.from({ length: DRAWS }, () => saneMachine(random)).flatMap((text) => {
      const doubts = doubtsAbout(plantOf(text))
      return doubts.length === 0 ? [] : [doubts.map(({ path, expected }) => `${path}: ${expected}`)]
    })
    expect(doubtful.length, doubtful.slice(0, 10).join('\n')).toBeLessThanOrEqual(DRAWS / 100)
  })
})
