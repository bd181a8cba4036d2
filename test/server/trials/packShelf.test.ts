import { describe, expect, it, vi } from 'vitest'
import { createPackShelf } from '../../../server/trials/pack/packShelf.ts'

describe('packs of finished runs', () => {
  it('are made once for many who ask, and anew when the run has changed', async () => {
    const shelf = createPackShelf()
    const make = vi.fn(async () => 'pack')
    const three = [shelf('pack 1', 'a', make), shelf('pack 1', 'a', make), shelf('record 1', 'a', make)]
    expect(await Promise.all(three)).toEqual(['pack', 'pack', 'pack'])
    expect(make).toHaveBeenCalledTimes(2)
    await shelf('pack 1', 'b', make)
    expect(make).toHaveBeenCalledTimes(3)
  })

  it('are tried again after one that could not be made', async () => {
    const shelf = createPackShelf()
    expect(await shelf('pack 1', 'a', async () => undefined)).toBeUndefined()
    await expect(shelf('pack 1', 'a', () => Promise.reject(new Error('no thread')))).rejects.toThrow()
    expect(await shelf('pack 1', 'a', async () => 'pack')).toBe('pack')
  })

  it('are kept up to twelve, and none that is very large', async () => {
    const shelf = createPackShelf()
    const large = vi.fn(async () => new Uint8Array(5_000_000))
    const small = vi.fn(async () => 'pack')
    await shelf('large', 'a', large)
    await shelf('large', 'a', large)
    expect(large).toHaveBeenCalledTimes(2)
    await shelf('first', 'a', small)
    for (let i = 0; i < 12; i++) await shelf(`pack ${i}`, 'a', small)
    await shelf('first', 'a', small)
    expect(small).toHaveBeenCalledTimes(14)
  })
})
