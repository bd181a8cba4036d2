import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, describe, expect, it, vi } from 'vitest'
import { createLastResort, takeLastFault } from '../../server/lastResort.ts'
import type { Tell } from '../../server/log.ts'
import { scratchFolder } from '../support/scratch.ts'

describe('a fault that nothing handled', () => {
  const folder = scratchFolder()
  afterAll(() => folder.remove())

  function bench(stop: () => Promise<void> = async () => {}) {
    const told: string[] = []
    const exit = vi.fn()
    const tell: Tell = (text, _level, cause) =>
      void told.push(`${text}: ${cause instanceof Error ? cause.stack : cause}`)
    const onFault = createLastResort({ folder: folder.path, now: () => 1000, stop, exit, tell, limitMs: 50 })
    return { onFault, told, exit }
  }

  it('is said with its stack, stored for the next start, and ends the process well with code 1', async () => {
    const stop = vi.fn(async () => {})
    const { onFault, told, exit } = bench(stop)
    onFault(new TypeError('nothing\nthere'))
    await vi.waitFor(() => expect(exit).toHaveBeenCalledWith(1))
    expect(stop).toHaveBeenCalledOnce()
    expect(told[0]).toMatch(/^Headrace ends because of a fault that nothing handled: TypeError: nothing/)
    expect(told[0]).toContain('lastResort.test.ts')
    expect(takeLastFault(folder.path)).toEqual({ at: 1000, message: 'nothing there' })
    expect(takeLastFault(folder.path)).toBeNull()
    expect(existsSync(join(folder.path, 'last-fault-told.json'))).toBe(true)
  })

  it('ends the process also where closing hangs or fails, and where faults follow', async () => {
    const { onFault, exit } = bench(() => new Promise(() => {}))
    onFault('first')
    onFault('second')
    await vi.waitFor(() => expect(exit).toHaveBeenCalledWith(1))
    expect(takeLastFault(folder.path)?.message).toBe('first')
    const failing = bench(() => Promise.reject(new Error('disk')))
    failing.onFault('third')
    await vi.waitFor(() => expect(failing.exit).toHaveBeenCalledWith(1))
    expect(failing.told.at(-1)).toMatch(/^Not everything could be closed: Error: disk/)
  })
})
