import { execFileSync } from 'node:child_process'
import { symlinkSync, truncateSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { readSmallFile } from '../../server/readSmallFile.ts'
import { scratchFolder } from '../support/scratch.ts'

const scratch = scratchFolder()
afterAll(() => scratch.remove())

describe('a file that is followed while everything runs', () => {
  it('is read where it is one', () => {
    expect(readSmallFile(scratch.file('plant.yaml', 'id: mill'))).toBe('id: mill')
  })

  it('is refused at once where it leads to a device, is a pipe or a folder', () => {
    symlinkSync('/dev/zero', join(scratch.path, 'zeros'))
    execFileSync('mkfifo', [join(scratch.path, 'pipe')])
    for (const path of [join(scratch.path, 'zeros'), join(scratch.path, 'pipe'), scratch.path])
      expect(() => readSmallFile(path), path).toThrow('expected a file')
  })

  it('is refused before it is read where it is very large', () => {
    const file = scratch.file('large', '')
    truncateSync(file, 3e9)
    expect(() => readSmallFile(file)).toThrow('it has 3000000000 bytes, expected at most 1000000')
  })
})
