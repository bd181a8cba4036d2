import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { noticesOf } from '../../web/notices.ts'
import { root } from '../support/root.ts'
import { packageOf, readSources } from './sourceTree.ts'

const read = (name: string) => JSON.parse(readFileSync(join(root, name), 'utf8'))
const lock = read('package-lock.json') as {
  packages: Record<string, { name?: string; version: string; dev?: boolean; license?: string }>
}
const installed = Object.entries(lock.packages).filter(([path]) => path !== '')
const nameOf = (path: string) => path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length)
const shipped = installed
  .filter(([, { dev }]) => !dev)
  .map(([path, { name, version, license }]) => ({
    name: name ?? nameOf(path),
    version,
    license: license ?? '',
  }))

/** As far as it is looked at here; source of the names: CycloneDX 1.5. */
interface Bom {
  bomFormat: string
  components: { name: string; version: string; licenses?: unknown; hashes?: unknown }[]
  dependencies: { ref: string; dependsOn: string[] }[]
}

describe('what is shipped', () => {
  it('is whatever server, page and simulator import', () => {
    const { devDependencies } = read('package.json') as { devDependencies: Record<string, string> }
    const product = readSources().filter(({ path }) => !/^test\/|vite\.config|web\/notices\.ts$/.test(path))
    const imported = product.flatMap(({ imports }) =>
      imports.filter((one) => !one.isOurs && !one.isTypeOnly).map((one) => packageOf(one.target)),
    )
    expect([...new Set(imported)].filter((name) => name in devDependencies)).toEqual([])
    expect(imported).toContain('preact')
  })

  it('stands in the CycloneDX list: every package of the lock file that is not for development, and no other', async () => {
    const script: string = join(root, 'server/launch/sbom.mjs')
    const bom = (await (await import(script)).listOfShipped()) as Bom
    const line = ({ name, version }: { name: string; version: string }) => `${name}@${version}`
    expect(bom.bomFormat).toBe('CycloneDX')
    expect(bom.components.map(line).toSorted()).toEqual([...new Set(shipped.map(line))].toSorted())
    expect(bom.components.filter(({ hashes }) => !hashes).map(line)).toEqual([])
    // npm does not read the older field "licenses" of this one
    expect(bom.components.filter(({ licenses }) => !licenses).map(line)).toEqual(['xmlhttprequest-ssl@2.1.2'])
    const refs = new Set(bom.dependencies.map(({ ref }) => ref))
    expect(bom.dependencies.flatMap(({ dependsOn }) => dependsOn).filter((ref) => !refs.has(ref))).toEqual([])
  })

  it('has its licences and notices in one text, with our own first', () => {
    const text = noticesOf(root)
    expect(text).toContain(readFileSync(join(root, 'LICENSE'), 'utf8').trim())
    const lines = text.split('\n').map((line) => line.split(' · '))
    const named = new Map(lines.map(([head, licence]) => [head, licence]))
    expect(shipped.filter(({ name, version }) => !named.get(`${name} ${version}`))).toEqual([])
  })

  it('says where the source is of what asks for that, and hands the licence of the font on', () => {
    // Mozilla Public License 2.0, 3.2 (a): recipients are told where the source is.
    const text = noticesOf(root)
    for (const { name, version } of shipped.filter(({ license }) => /MPL/.test(license)))
      expect(text).toMatch(
        new RegExp(`^${name} ${version} · MPL-2\\.0 · \\S+${name.split(/[/-]/).at(-2)}`, 'm'),
      )
    // SIL Open Font License 1.1, condition 2: each copy contains the notice and the licence.
    expect(text).toContain('SIL OPEN FONT LICENSE')
  })
})
