import { describe, expect, it } from 'vitest'
import { roles } from '../../server/plant/roles.ts'
import { stateWord } from '../../web/format/words.ts'

describe('stateWord', () => {
  it('says open and closed of jets, whatever their number', () => {
    expect([stateWord('jetOpen.2', 1), stateWord('jetOpen.2', 0)]).toEqual(['open', 'closed'])
  })

  it('has two different words for every discrete role', () => {
    for (const { id, discrete } of roles)
      if (discrete) expect(stateWord(id, 0), id).not.toBe(stateWord(id, 1))
  })

  it('leaves a value that is neither 0 nor 1 to the number', () => {
    expect(stateWord('jetOpen.1', 0.5)).toBeUndefined()
  })
})
