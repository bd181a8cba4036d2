import { describe, expect, it } from 'vitest'
import { findCycle, packageOf, reachable, readSources, type SourceFile, sourceFile } from './sourceTree.ts'

/** DESIGN: pure folders import no I/O; the packages that each of them may use are named here. */
const PURE_FOLDERS: Record<string, readonly string[]> = {
  'server/physics/': [],
  'server/statistics/': ['ml-matrix'],
  'server/wire/': ['zod'],
  'server/plant/': ['yaml', 'zod'],
  'server/plausible/': [],
  'server/derive/': ['mathjs', 'temporal-polyfill', 'zod'],
}
/** The one file of a pure folder that is I/O by purpose. */
const IO_BY_PURPOSE = 'server/derive/counterStore.ts'

const sources = readSources()
const byPath = new Map(sources.map((file) => [file.path, file]))
const within = (folder: string) => sources.filter((file) => file.path.startsWith(folder))

/** "from → target" for each import of these files that `isAllowed` does not allow. */
function offences(
  files: readonly SourceFile[],
  isAllowed: (target: string, one: { isOurs: boolean; isTypeOnly: boolean }) => boolean,
): string[] {
  return files.flatMap((file) =>
    file.imports.filter((one) => !isAllowed(one.target, one)).map((one) => `${file.path} → ${one.target}`),
  )
}

describe('the import rules', () => {
  for (const [folder, packages] of Object.entries(PURE_FOLDERS)) {
    it(`keep ${folder} free of I/O, also through what it imports`, () => {
      const files = within(folder).filter((file) => file.path !== IO_BY_PURPOSE)
      const reached = new Set(files.flatMap((file) => reachable(file, byPath)))
      const others = Object.values(PURE_FOLDERS).flat()
      const direct = offences(files, (target, one) => one.isOurs || packages.includes(packageOf(target)))
      const indirect = offences([...reached], (target, one) => {
        return one.isOurs || one.isTypeOnly || others.includes(packageOf(target))
      })
      expect([...new Set([...direct, ...indirect])]).toEqual([])
    })
  }

  for (const folder of ['server/physics/', 'server/statistics/', 'server/wire/']) {
    it(`let ${folder} import nothing of ours but itself`, () => {
      expect(offences(within(folder), (target, one) => !one.isOurs || target.startsWith(folder))).toEqual([])
    })
  }

  it('let the page import server/wire, and nothing else of the server', () => {
    const isAllowed = (target: string) =>
      !/^(?:server|simulator|test)\//.test(target) || target.startsWith('server/wire/')
    expect(offences(within('web/'), isAllowed)).toEqual([])
  })

  it('let the page take types alone of what describes replies: no package comes in by server/wire', () => {
    const reached = new Set(within('web/').flatMap((file) => reachable(file, byPath)))
    const ofWire = [...reached].filter((file) => file.path.startsWith('server/wire/'))
    expect(offences(ofWire, (_target, one) => one.isOurs || one.isTypeOnly)).toEqual([])
  })

  it('let the simulator share nothing with the server but the plant file and the units', () => {
    const isAllowed = (target: string) =>
      !/^(?:server|web|test)\//.test(target) ||
      target.startsWith('server/plant/') ||
      target === 'server/wire/units.ts'
    expect(offences(within('simulator/'), isAllowed)).toEqual([])
  })

  it('let the server import neither the page nor the simulator nor tests', () => {
    const files = within('server/').filter((file) => file.path !== 'server/main.ts')
    expect(offences(files, (target) => !/^(?:web|simulator|test)\//.test(target))).toEqual([])
  })

  it('keep whatever serves a page out of the process of the watch', () => {
    const ofWatch = reachable(byPath.get('server/main.ts')!, byPath)
    const ofPage =
      /^server\/(?:access\/(?!allowance|lockOut)|http|lessons|mirror|replay|trials|push\/hub)|^(?:express|helmet|socket\.io)$/
    expect(ofWatch.length).toBeGreaterThan(100)
    expect(offences(ofWatch, (target, one) => one.isTypeOnly || !ofPage.test(target))).toEqual([])
  })

  it('keep broker, readings, messages and the store of history out of the process of the page side', () => {
    const ofPage = reachable(byPath.get('server/page.ts')!, byPath)
    const ofWatch =
      /^server\/(?:ingest|alarms\/notify|history\/stores)\/|^(?:aedes|mqtt|nodemailer|web-push)$/
    expect(ofPage.length).toBeGreaterThan(100)
    expect(offences(ofPage, (target, one) => one.isTypeOnly || !ofWatch.test(target))).toEqual([])
  })

  it('leave no cycle among the files of the server, the page or the simulator', () => {
    expect(findCycle(sources.filter((file) => !file.path.startsWith('test/')))).toBeUndefined()
  })
})

describe('the reading of imports', () => {
  const read = (text: string) => sourceFile('server/a/b.ts', text).imports

  it.each([
    ["import { x } from '../c.ts'", { target: 'server/c.ts', isOurs: true, isTypeOnly: false }],
    ["import type { X } from './c.ts'", { target: 'server/a/c.ts', isOurs: true, isTypeOnly: true }],
    ["import {\n  type X,\n  type Y,\n} from 'z'", { target: 'z', isOurs: false, isTypeOnly: true }],
    ["import { type X, y } from 'z'", { target: 'z', isOurs: false, isTypeOnly: false }],
    ["export { x } from './c.ts'", { target: 'server/a/c.ts', isOurs: true, isTypeOnly: false }],
    ["import 'z'", { target: 'z', isOurs: false, isTypeOnly: false }],
    ["const x = await import('./c.ts')", { target: 'server/a/c.ts', isOurs: true, isTypeOnly: false }],
  ])('understands %j', (text, expected) => {
    expect(read(text)).toEqual([expected])
  })

  it('passes over comments', () => {
    expect(read("// import { x } from './c.ts'\n/* import 'z' */")).toEqual([])
  })

  it('finds a cycle', () => {
    const files = [
      sourceFile('a.ts', "import { b } from './b.ts'"),
      sourceFile('b.ts', "import { a } from './a.ts'"),
    ]
    expect(findCycle(files)).toEqual(['a.ts', 'b.ts', 'a.ts'])
  })
})
