import { mkdirSync, readdirSync, readFileSync, rmdirSync, statSync, truncateSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { AUDIT_LIMIT, type AuditLine } from '../../../server/access/audit.ts'
import { LARGEST_FILE } from '../../../server/access/auditFile.ts'
import { type AccessBench, accessBench } from '../../support/accessBench.ts'

const done: AuditLine = {
  who: 'Ada',
  role: 'operator',
  address: '192.0.2.1',
  action: 'acknowledge',
  target: 'plants/mill/alarms/low',
  detail: null,
  outcome: 'done',
}
const stranger: AuditLine = { ...done, who: 'x', role: null, action: 'sign in', outcome: 'refused' }

describe('the audit', () => {
  let bench: AccessBench
  beforeEach(() => {
    bench = accessBench()
  })
  afterEach(() => bench.close())

  const details = () => bench.access.audit.newest({ limit: 1000 }).map((entry) => entry.detail)

  it('lists newest first, goes on where asked, and lasts across a restart', () => {
    for (const detail of ['1', '2', '3']) bench.access.audit.record({ ...done, detail })
    bench.restart()
    const { audit } = bench.access
    const page = audit.newest({ limit: 2 })
    expect(page.map((entry) => entry.detail)).toEqual(['3', '2'])
    expect(audit.newest({ limit: 2, before: page[1]!.sequence })[0]!.detail).toBe('1')
    expect(page[0]).toEqual({ ...done, detail: '3', at: bench.clock.now(), sequence: 3 })
  })

  it('lets no line be changed or removed, not even by the program itself', () => {
    bench.access.audit.record(done)
    const { database } = bench.state
    expect(() => database.exec("UPDATE audit SET who = 'Ben'")).toThrow(/only ever added to/)
    expect(() => database.exec('DELETE FROM audit')).toThrow(/only ever added to/)
    expect(bench.access.audit.newest({ limit: 9 }).length).toBe(1)
  })

  it('keeps the newest hundred thousand lines', () => {
    const { database } = bench.state
    bench.access.audit.record({ ...done, detail: 'old' })
    // As if as many had been written since.
    database.exec(`UPDATE sqlite_sequence SET seq = ${AUDIT_LIMIT + 5} WHERE name = 'audit'`)
    for (let i = 0; i < 1001; i++) {
      bench.clock.advance(1000)
      bench.access.audit.record(done)
    }
    expect(details().includes('old')).toBe(false)
    expect(bench.access.audit.newest({ limit: 1000, before: AUDIT_LIMIT }).length).toBe(0)
    expect(bench.access.audit.newest({ limit: 1000 }).length).toBe(1000)
  })

  it('lists sixty refusals of strangers a minute and counts the rest into the next line', () => {
    for (let i = 0; i < 100; i++) bench.access.audit.record(stranger)
    bench.access.audit.record({ ...done, detail: 'a note' })
    expect(details().length).toBe(61)
    expect(details()[0]).toBe('a note (40 entries before this one were not listed: strangers 40)')
    bench.clock.advance(60_000)
    bench.access.audit.record(stranger)
    expect(details().length).toBe(62)
    expect(bench.access.audit.queues()[0]!.dropped).toBe(40)
  })

  it('gives every actor a budget: a viewer and a phone push nobody else out', () => {
    const { audit } = bench.access
    const refused: AuditLine = { ...done, who: 'Vi', role: 'viewer', outcome: 'refused' }
    const remark: AuditLine = { ...done, who: 'group 3', role: null, action: 'remark' }
    for (let i = 0; i < 300; i++) {
      audit.record(refused)
      audit.record(remark)
    }
    audit.record(done)
    expect(details().length).toBe(121)
    expect(details()[0]).toBe('480 entries before this one were not listed: Vi 240, group 3 240')
  })

  it('lists what a person does although they did something else a thousand times before', () => {
    const { audit } = bench.access
    for (let i = 0; i < 1000; i++) audit.record({ ...done, action: 'sign out others' })
    audit.record({ ...done, action: 'add person', detail: 'administrator' })
    expect(details()[0]).toContain('administrator')
  })

  describe('its copy in a file', () => {
    const path = (name = 'audit.jsonl') => join(bench.state.folder, name)
    const lines = (name?: string) => readFileSync(path(name), 'utf8').trim().split('\n')

    it('has one JSON line each, is added to after a restart, and is nobody else’s to read', () => {
      bench.access.audit.record({ ...done, detail: 'a\nb' })
      bench.restart()
      bench.access.audit.record(done)
      expect(lines().map((line) => JSON.parse(line))).toEqual([
        { ...done, detail: 'a\nb', at: new Date(bench.clock.now()).toISOString() },
        { ...done, at: new Date(bench.clock.now()).toISOString() },
      ])
      expect(statSync(path()).mode & 0o077).toBe(0)
    })

    it('is put aside when it is large, and of those before it nine are kept', () => {
      for (let i = 0; i < 12; i++) {
        bench.access.audit.record({ ...done, detail: `${i}` })
        truncateSync(path(), LARGEST_FILE)
      }
      bench.access.audit.record({ ...done, detail: 'last' })
      const kept = readdirSync(bench.state.folder).filter((name) => /^audit.*jsonl$/.test(name))
      expect(kept.length).toBe(10)
      expect(JSON.parse(lines()[0]!).detail).toBe('last')
      expect(readFileSync(path('audit.9.jsonl'), 'utf8')).toContain('"detail":"3"')
    })

    it('says in health that it cannot be written, and has every line once it can', () => {
      mkdirSync(path())
      for (const detail of ['1', '2']) bench.access.audit.record({ ...done, detail })
      expect(details()).toEqual(['2', '1'])
      const [, copy] = bench.access.audit.queues()
      expect(copy).toMatchObject({ length: 2, policy: expect.stringMatching(/^CANNOT BE WRITTEN \(EISDIR/) })
      expect(bench.notices.at(-1)).toMatch(/audit\.jsonl cannot be written/)
      rmdirSync(path())
      bench.access.audit.record({ ...done, detail: '3' })
      expect(lines().map((line) => JSON.parse(line).detail)).toEqual(['1', '2', '3'])
      expect(bench.access.audit.queues()[1]).toMatchObject({ length: 0 })
    })
  })

  it('keeps lines that the disk refuses and stores them in order later', () => {
    const { database } = bench.state
    database.exec('ALTER TABLE audit RENAME TO away')
    bench.access.audit.record({ ...done, detail: '1' })
    expect(bench.access.audit.queues()[0]!.length).toBe(1)
    database.exec('ALTER TABLE away RENAME TO audit')
    bench.access.audit.record({ ...done, detail: '2' })
    expect(details()).toEqual(['2', '1'])
    expect(bench.access.audit.queues()[0]!.length).toBe(0)
  })
})
