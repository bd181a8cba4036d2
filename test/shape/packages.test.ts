import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { satisfies } from 'semver'
import { describe, expect, it } from 'vitest'
import { root } from '../support/root.ts'
import { VERSIONS } from '../support/suites/nodes.ts'

interface PackageFile {
  engines: { node: string }
  dependencies: Record<string, string>
  devDependencies: Record<string, string>
}

interface LockFile {
  packages: Record<string, { engines?: { node?: string } | string[]; optional?: boolean }>
}

const text = (name: string) => readFileSync(join(root, name), 'utf8')
const file: PackageFile = JSON.parse(text('package.json'))
const lock: LockFile = JSON.parse(text('package-lock.json'))
const oldest = file.engines.node.replace('>=', '')

describe('package.json', () => {
  it('pins every package to one version', () => {
    const all = Object.entries({ ...file.dependencies, ...file.devDependencies })
    expect(all.filter(([, version]) => !/^\d+\.\d+\.\d+(?:-[\w.]+)?$/.test(version))).toEqual([])
    expect(all.length).toBeGreaterThan(10)
  })

  it.each([`${oldest}.0`, ...Object.values(VERSIONS)])(
    'names only packages that accept Node %s',
    (version) => {
      const refusing = Object.entries(lock.packages).filter(([path, { engines }]) => {
        const range = Array.isArray(engines) ? undefined : engines?.node
        return path !== '' && range !== undefined && !satisfies(version, range)
      })
      expect(refusing.map(([path]) => path)).toEqual([])
    },
  )
})

describe('package-lock.json', () => {
  it('records no download addresses, and .npmrc keeps it so', () => {
    expect(text('package-lock.json')).not.toContain('"resolved"')
    expect(text('.npmrc').split('\n')).toContain('omit-lockfile-registry-resolved=true')
  })

  it('records a checksum for every package', () => {
    const without = Object.entries(lock.packages).filter(
      ([path, entry]) => path !== '' && !('integrity' in entry),
    )
    expect(without.map(([path]) => path)).toEqual([])
  })
})
