import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { backUp } from '../../../server/backup/backUp.ts'
import { MANIFEST, type Manifest } from '../../../server/backup/manifest.ts'
import { restore } from '../../../server/backup/restore.ts'
import { type Options, readOptions } from '../../../server/options.ts'
import { openPeople, openState, RESTORING_FILE, type State } from '../../../server/state/openState.ts'
import { THREE_SENSORS } from '../../support/plants.ts'
import { scratchFolder } from '../../support/scratch.ts'

// Expectations are rules of the house; no outside source.
describe('a backup', () => {
  let scratch: ReturnType<typeof scratchFolder>
  let options: Options
  let state: State
  let people: State
  const at = (...names: string[]) => join(scratch.path, ...names)

  beforeEach(() => {
    scratch = scratchFolder()
    const plant = scratch.file('mill.yaml', THREE_SENSORS)
    const secrets = scratch.file('secrets.yaml', 'mail: hush')
    const file = scratch.file('options.yaml', `notify-secrets: ${secrets}`)
    options = readOptions(['--data', at('data'), '--plant', plant, '--options', file], {})
    state = openState(at('data'))
    people = openPeople(at('data'))
    note('1')
    people.database.exec("INSERT INTO setUpCode (hash, at) VALUES ('x', 1)")
    writeFileSync(at('data', 'audit.jsonl'), '{"at":1}\n')
  })
  afterEach(() => {
    state.close()
    people.close()
    scratch.remove()
  })

  const note = (value: string) =>
    state.write(() => state.database.exec(`INSERT INTO notify_memory (key, value) VALUES ('${value}', '1')`))
  const manifest = () => JSON.parse(readFileSync(at('b', MANIFEST), 'utf8')) as Manifest
  const keysIn = (folder: string) => {
    const restored = openState(at(folder))
    const rows = restored.database.prepare('SELECT key FROM notify_memory').all() as { key: string }[]
    restored.close()
    return rows.map(({ key }) => key)
  }

  it('made while the files are open has what was committed, and is its owner’s alone', async () => {
    expect(await backUp(at('b'), options)).toMatch(/^Backed up to .*: 6 files, .* as of 20/)
    note('2')
    expect(await restore(at('b'), at('new'))).toMatch(/^Restored to .*6 files[\s\S]*was .*mill\.yaml/)
    expect(keysIn('new')).toEqual(['1'])
    const restored = openPeople(at('new'))
    expect(restored.database.prepare('SELECT hash FROM setUpCode').get()).toMatchObject({ hash: 'x' })
    restored.close()
    expect(readFileSync(at('new', 'audit.jsonl'), 'utf8')).toBe('{"at":1}\n')
    expect(readFileSync(at('new', 'settings', '1-mill.yaml'), 'utf8')).toBe(THREE_SENSORS)
    const modeOf = (path: string) => statSync(path).mode & 0o077
    expect([at('b'), at('b', 'state.db'), at('b', 'people.db'), at('new')].map(modeOf)).toEqual([0, 0, 0, 0])
  })

  it('lists every file with its length and checksum', async () => {
    await backUp(at('b'), options)
    expect(manifest().files.map(({ path }) => path)).toEqual([
      'audit.jsonl',
      'people.db',
      'settings/1-mill.yaml',
      'settings/2-secrets.yaml',
      'settings/3-options.yaml',
      'state.db',
    ])
    // sha256sum of coreutils gives the same: printf '{"at":1}\n' | sha256sum
    expect(manifest().files[0]).toEqual({
      path: 'audit.jsonl',
      bytes: 9,
      sha256: 'a401ba8a5b85a46fde2322707c5f22371c615643a5344a8824648b195d328aa2',
    })
  })

  it('never goes into a folder with something in it, and leaves nothing where it fails', async () => {
    mkdirSync(at('full', 'x'), { recursive: true })
    for (const taken of ['full', 'options.yaml'])
      await expect(backUp(at(taken), options)).rejects.toThrow(
        /is not an empty folder\. A backup is written into a new one/,
      )
    rmSync(at('mill.yaml'))
    await expect(backUp(at('b'), options)).rejects.toThrow(/^The backup could not be made: .*mill\.yaml/)
    expect(readdirSync(scratch.path).sort()).toEqual(['data', 'full', 'options.yaml', 'secrets.yaml'])
  })

  it('removes nothing that it did not make', async () => {
    mkdirSync(at('b.making', 'x'), { recursive: true })
    await expect(backUp(at('b'), options)).rejects.toThrow(/b\.making is there already/)
    expect(readdirSync(at('b.making'))).toEqual(['x'])
  })

  it('is nobody else’s to read once it is restored, also into a folder that was there', async () => {
    await backUp(at('b'), options)
    for (const name of ['state.db', 'people.db']) chmodSync(at('b', name), 0o644)
    mkdirSync(at('new'), { mode: 0o755 })
    await restore(at('b'), at('new'))
    expect(statSync(at('new')).mode & 0o777).toBe(0o700)
    for (const name of ['state.db', 'people.db']) expect(statSync(at('new', name)).mode & 0o777).toBe(0o600)
  })

  it('of a folder in which nothing is stored is refused', async () => {
    await expect(backUp(at('b'), { ...options, data: at('none') })).rejects.toThrow(
      /nothing to back up in .*--data/,
    )
  })

  it('is not restored into a folder with something in it', async () => {
    await backUp(at('b'), options)
    await expect(restore(at('b'), at('data'))).rejects.toThrow(
      /is not empty, and nothing is ever overwritten.*--data/,
    )
    expect(keysIn.bind(null, 'data')).toThrow(/Another Headrace server/)
  })

  it.each<[string, () => void, RegExp]>([
    [
      'a byte of a file is another',
      () => flip(at('b', 'state.db'), 5000),
      /state\.db is not as it was written: the backup is damaged/,
    ],
    [
      'a file is cut short',
      () => writeFileSync(at('b', 'audit.jsonl'), ''),
      /audit\.jsonl is not as it was written/,
    ],
    ['a file is gone', () => rmSync(at('b', 'people.db')), /people\.db cannot be read: ENOENT/],
    ['the list is gone', () => rmSync(at('b', MANIFEST)), /holds no whole backup/],
    [
      'the list is half',
      () => writeFileSync(at('b', MANIFEST), '{"headraceBackup":1'),
      /holds no whole backup/,
    ],
    [
      'the list names a file outside',
      () => {
        const outside = manifest()
        outside.files[0]!.path = '../outside'
        writeFileSync(at('b', MANIFEST), JSON.stringify(outside))
      },
      /is not the list of a backup/,
    ],
  ])('is refused where %s, and nothing is written', async (_, damage, sentence) => {
    await backUp(at('b'), options)
    damage()
    await expect(restore(at('b'), at('new'))).rejects.toThrow(sentence)
    expect(existsSync(at('new'))).toBe(false)
  })

  it('that was restored in part is no data folder', async () => {
    await backUp(at('b'), options)
    cpSync(at('b'), at('half'), { recursive: true })
    writeFileSync(at('half', RESTORING_FILE), '')
    expect(() => openState(at('half'))).toThrow(
      /did not come to its end\. Empty the folder, and restore it again/,
    )
  })
})

function flip(file: string, place: number): void {
  const bytes = readFileSync(file)
  bytes[place]! ^= 1
  writeFileSync(file, bytes)
}
