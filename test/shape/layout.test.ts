import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { root } from '../support/root.ts'

const FOLDERS = ['server', 'web', 'simulator', 'test']
const FILES = [
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'docker-compose.yml',
  'README.md',
  'DEVELOPERS.md',
  'CHANGELOG.md',
  'LICENSE',
  '.ci/run',
]

describe('the top level of the repository', () => {
  it.each([...FOLDERS, ...FILES])('has %s', (name) => {
    expect(existsSync(join(root, name))).toBe(true)
  })

  it('has nothing else but what git passes over', () => {
    const ignored = readFileSync(join(root, '.gitignore'), 'utf8')
      .split('\n')
      .map((line) => line.replace(/\/$/, ''))
    const extra = readdirSync(root).filter(
      (name) =>
        !name.startsWith('.') && ![...FOLDERS, ...FILES, ...ignored].includes(name) && !name.endsWith('.log'),
    )
    expect(extra).toEqual([])
  })
})
