import { describe, expect, it } from 'vitest'
import { quantities } from '../../server/derive/quantities/index.ts'
import { background } from '../../web/format/background.ts'

describe('background', () => {
  it('names only quantities that the server derives', () => {
    const known = new Set(quantities.map(({ id }) => id))
    expect([...background].filter((id) => !known.has(id))).toEqual([])
  })

  it('leaves every power, head and efficiency in the open', () => {
    const open = ['hydraulicPower', 'shaftPower', 'netHead', 'headLoss', 'turbineEfficiency', 'nozzleHealth']
    expect(open.filter((id) => background.has(id))).toEqual([])
  })
})
