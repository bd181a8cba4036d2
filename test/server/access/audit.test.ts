import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { AUDIT_LIMIT, type AuditLine } from '../../../server/access/audit.ts'
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
    for (let i = 0; i < 1001; i++) bench.access.audit.record(done)
    expect(details().includes('old')).toBe(false)
    expect(bench.access.audit.newest({ limit: 1000, before: AUDIT_LIMIT }).length).toBe(0)
    expect(bench.access.audit.newest({ limit: 1000 }).length).toBe(1000)
  })

  it('lists sixty refusals of strangers a minute, counts the rest into the next, and never leaves a deed out', () => {
    for (let i = 0; i < 100; i++) bench.access.audit.record(stranger)
    bench.access.audit.record({ ...done, detail: 'a note' })
    expect(details().length).toBe(61)
    expect(details()[0]).toBe('a note (40 refusals before this one were not listed)')
    bench.clock.advance(60_000)
    bench.access.audit.record(stranger)
    expect(details().length).toBe(62)
    expect(bench.access.audit.queue().dropped).toBe(40)
  })

  it('keeps lines that the disk refuses and stores them in order later', () => {
    const { database } = bench.state
    database.exec('ALTER TABLE audit RENAME TO away')
    bench.access.audit.record({ ...done, detail: '1' })
    expect(bench.access.audit.queue().length).toBe(1)
    database.exec('ALTER TABLE away RENAME TO audit')
    bench.access.audit.record({ ...done, detail: '2' })
    expect(details()).toEqual(['2', '1'])
    expect(bench.access.audit.queue().length).toBe(0)
  })
})
