import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { alarmKinds } from '../../../../server/alarms/kinds/index.ts'
import { root } from '../../../support/root.ts'

const FOLDER = 'server/alarms/kinds'
const names = alarmKinds.map((one) => one.id)
const read = (path: string) => readFileSync(join(root, path), 'utf8')

describe('every alarm kind', () => {
  it('of the folder stands in the index, under a name of its own', async () => {
    const files = readdirSync(join(root, FOLDER)).filter((file) => file !== 'index.ts')
    const found = await Promise.all(
      files.map(async (file) => {
        const module: Record<string, unknown> = await import(join(root, FOLDER, file))
        return Object.values(module).filter(
          (one) => typeof one === 'object' && one !== null && 'needs' in one,
        )
      }),
    )
    expect(new Set(alarmKinds)).toEqual(new Set(found.flat()))
    expect(new Set(names).size).toBe(names.length)
  })

  it('is in the list of README, which names no other', () => {
    const list = /\| `alarms` \|.*?`kind` \(([^)]*)\)/.exec(read('README.md'))![1]!
    expect(list.split(', ').sort()).toEqual([...names].sort())
  })

  it('has every field that it takes in the row of README', () => {
    const row = /\| `alarms` \|.*/.exec(read('README.md'))![0]
    for (const kind of alarmKinds)
      for (const field of [...kind.needs, ...kind.may]) expect(row, kind.id).toContain(`\`${field}\``)
  })

  it('is named by a test beside this one, or by one of the alarms as a whole', () => {
    const folder = 'test/server/alarms'
    const tests = readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.test.ts'))
      .map((file) => read(join(folder, file)))
      .join('\n')
    for (const name of names) expect(tests, name).toMatch(new RegExp(`\\bkind: ${name}\\b`))
  })

  it('has its name in no other file of the server', () => {
    const own = names.filter((name) => !SHARED_WORDS.includes(name))
    const files = readdirSync(join(root, 'server'), { recursive: true, encoding: 'utf8' }).filter(
      (file) => file.endsWith('.ts') && !file.startsWith('alarms/kinds/'),
    )
    const naming = files.filter((file) => {
      const text = read(join('server', file))
      return own.some((name) => text.includes(`'${name}'`))
    })
    expect(naming).toEqual([])
  })
})

/** Names of kinds that are everyday words, or words of something else too, such as a priority or a machine state. */
const SHARED_WORDS = ['high', 'low', 'overSpeed', 'state', 'counter', 'deviation']
