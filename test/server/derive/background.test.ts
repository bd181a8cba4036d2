import { describe, expect, it } from 'vitest'
import { relations } from '../../../server/derive/agreement/relations/index.ts'
import { quantities } from '../../../server/derive/quantities/index.ts'

describe('what the page folds away', () => {
  const folded = quantities.filter(({ background }) => background).map(({ id }) => id)

  it('is what other figures are computed with', () => {
    expect(folded).toEqual(
      expect.arrayContaining(['gravity', 'waterDensity', 'internalEmf', 'jetSpecificSpeed']),
    )
  })

  it('is no power, head or efficiency that somebody comes for', () => {
    const open = ['hydraulicPower', 'shaftPower', 'netHead', 'headLoss', 'turbineEfficiency', 'nozzleHealth']
    expect(open.filter((id) => folded.includes(id))).toEqual([])
  })

  it('is every comparison of instruments, which has a panel of its own', () => {
    expect(relations.filter(({ quantity }) => !quantity.background)).toEqual([])
  })
})
