import { describe, expect, it } from 'vitest'
import { DAY_MS } from '../../../server/history/grid.ts'
import { findMerge } from '../../../server/history/stores/embedded/compaction.ts'
import {
  clockFault,
  findExpired,
  findOversize,
  keptFrom,
} from '../../../server/history/stores/embedded/retention.ts'
import { findMissingRollup } from '../../../server/history/stores/embedded/rollups.ts'
import {
  parseSegmentName,
  type Segment,
  sortOut as sortOutBy,
} from '../../../server/history/stores/embedded/segments.ts'

const dayOf = (date: string) => Date.parse(date) / DAY_MS

/** A sealed file from its path: "hour/2026-11-24.7.100.parquet". */
function file(path: string, bytes = 1_000): Segment {
  const [tier, name] = path.split('/') as [Segment['tier'], string]
  return { tier, ...parseSegmentName(name)!, path, bytes }
}
const paths = (segments: readonly Segment[]) => segments.map((one) => one.path)
const sealedDay = (date: string, serial: number) =>
  ['raw', 'minute', 'hour'].map((tier) => file(`${tier}/${date}.${serial}.${serial * 10}.parquet`))

/** As after an interruption: what was not sealed completely is still in the hot table. */
const sortOut = (found: Segment[]) => sortOutBy(found, () => true)

describe('the name of a sealed file', () => {
  it('tells day, serial number and last commit', () => {
    expect(parseSegmentName('2026-11-24.7.100.parquet')).toEqual({
      span: 'day',
      firstDay: dayOf('2026-11-24'),
      lastDay: dayOf('2026-11-24'),
      serial: 7,
      through: 100,
    })
  })

  it('tells the first and last day of a month and of a leap year', () => {
    const month = parseSegmentName('2028-02.1.1.parquet')!
    expect([month.firstDay, month.lastDay]).toEqual([dayOf('2028-02-01'), dayOf('2028-02-29')])
    const year = parseSegmentName('2028.1.1.parquet')!
    expect(year.lastDay - year.firstDay + 1).toBe(366)
  })

  it.each(['2026-11-24.parquet', 'notes.txt', '2026-11-24.7.100.parquet.part'])('is not %s', (name) => {
    expect(parseSegmentName(name)).toBeUndefined()
  })
})

describe('the sorting out of files after an interruption', () => {
  it('passes over a day whose hour file never got its name', () => {
    const whole = sealedDay('2026-11-23', 1)
    const torn = sealedDay('2026-11-24', 2).slice(0, 2)
    const { kept, leftovers } = sortOut([...whole, ...torn])
    expect(paths(kept)).toEqual(paths(whole))
    expect(paths(leftovers)).toEqual(paths(torn))
  })

  it('passes over day files that a merged file holds already', () => {
    const days = [...sealedDay('2026-10-30', 1), ...sealedDay('2026-10-31', 2)]
    const month = file('hour/2026-10.3.20.parquet')
    const { leftovers } = sortOut([...days, month])
    expect(paths(leftovers)).toEqual(['hour/2026-10-30.1.10.parquet', 'hour/2026-10-31.2.20.parquet'])
  })

  it('keeps a late day file beside the merged file of its month', () => {
    const late = sealedDay('2026-10-30', 4)
    expect(sortOut([file('hour/2026-10.3.20.parquet'), ...late]).leftovers).toEqual([])
  })

  it('passes over a merged file that was merged anew', () => {
    const { leftovers } = sortOut([file('hour/2026-10.3.20.parquet'), file('hour/2026-10.9.80.parquet')])
    expect(paths(leftovers)).toEqual(['hour/2026-10.3.20.parquet'])
  })

  it('keeps the samples of days whose hours were merged, and hours whose samples are no longer kept', () => {
    const [raw] = sealedDay('2026-10-31', 2)
    expect(
      sortOut([raw!, file('hour/2026-10.3.20.parquet'), file('hour/2024-01-01.1.1.parquet')]).leftovers,
    ).toEqual([])
  })
})

describe('the sorting out of files some of which were lost', () => {
  const nothingHot = (found: Segment[]) => sortOutBy(found, () => false)

  it('keeps the samples of a day whose hour file is gone, since they are nowhere else', () => {
    expect(nothingHot(sealedDay('2026-11-24', 2).slice(0, 1)).leftovers).toEqual([])
  })

  it('passes over a failed attempt to seal whose serial number the next attempt took', () => {
    const failed = file('raw/2026-11-24.2.15.parquet')
    expect(paths(nothingHot([failed, ...sealedDay('2026-11-24', 2)]).leftovers)).toEqual([failed.path])
  })
})

describe('the search for a roll-up that was lost', () => {
  const next = (...files: Segment[]) => {
    const missing = findMissingRollup(files)
    return missing && `${missing.tier} from ${missing.source.path}`
  }
  const [raw, minute, hour] = sealedDay('2026-10-30', 3) as [Segment, Segment, Segment]
  const merged = (tier: string, serial: number) => file(`${tier}/2026-10.${serial}.90.parquet`)

  it('finds none where every sample is in minutes and hours, and where samples are no longer kept', () => {
    expect(next(raw, minute, hour)).toBeUndefined()
    expect(next(raw, merged('minute', 9), merged('hour', 8))).toBeUndefined()
    expect(next(merged('minute', 9), file('hour/2026.12.90.parquet'))).toBeUndefined()
    expect(next(hour)).toBeUndefined()
  })

  it('makes minutes before hours, and hours from whatever is left of a day', () => {
    expect(next(raw)).toBe('minute from raw/2026-10-30.3.30.parquet')
    expect(next(raw, minute)).toBe('hour from raw/2026-10-30.3.30.parquet')
    expect(next(minute)).toBe('hour from minute/2026-10-30.3.30.parquet')
  })

  it('makes the hours of a month from its minutes when there are no other hours of that month', () => {
    expect(next(merged('minute', 9))).toBe('hour from minute/2026-10.9.90.parquet')
    const late = sealedDay('2026-10-30', 12)
    expect(next(merged('minute', 9), ...late)).toBeUndefined()
  })

  it('does not take a day that was sealed late for merged already', () => {
    const [lateRaw, lateMinute] = sealedDay('2026-10-30', 12) as [Segment, Segment]
    expect(next(merged('minute', 9), merged('hour', 8), lateRaw, lateMinute)).toBe(
      'hour from raw/2026-10-30.12.120.parquet',
    )
  })
})

describe('the merging of files', () => {
  const october = ['2026-10-01', '2026-10-02', '2026-10-03'].flatMap((date, i) => sealedDay(date, i + 1))

  it('begins with the hours of a month when it has been over for a day', () => {
    expect(findMerge(october, Date.parse('2026-11-01T23:00Z'))).toBeUndefined()
    expect(findMerge(october, Date.parse('2026-11-02T00:00Z'))).toMatchObject({ tier: 'hour', span: 'month' })
  })

  it('leaves samples in files of one day', () => {
    const samples = october.filter((one) => one.tier === 'raw')
    expect(findMerge(samples, Date.parse('2027-06-01'))).toBeUndefined()
  })

  it('makes months of past years into a year, of hours only', () => {
    const months = ['2025-01', '2025-02'].flatMap((month) => [
      file(`hour/${month}.1.1.parquet`),
      file(`minute/${month}.2.1.parquet`),
    ])
    expect(findMerge(months, Date.parse('2026-01-02'))).toMatchObject({ tier: 'hour', span: 'year' })
    expect(
      findMerge([file('hour/2025.3.1.parquet'), ...months.slice(1, 2)], Date.parse('2026-01-02')),
    ).toBeUndefined()
  })

  it('leaves alone what is too large to sort', () => {
    const large = october.map((one) => ({ ...one, bytes: 100_000_000 }))
    expect(findMerge(large, Date.parse('2026-11-02'))).toBeUndefined()
  })
})

describe('the removal of what is older than it is kept', () => {
  const days = { raw: 400, minute: 3_650, hour: Number.POSITIVE_INFINITY }
  const old = [...sealedDay('2025-01-01', 1), ...sealedDay('2025-01-02', 2)]

  it('begins 400 days after the end of a day and takes one day a round', () => {
    // 2025-01-01 ends at 2025-01-02 0 h; 400 days later it is 2026-02-06 (from memory: 365 + 35)
    expect(findExpired(old, Date.parse('2026-02-05T23:59Z'), days)).toEqual([])
    expect(paths(findExpired(old, Date.parse('2026-06-01'), days))).toEqual(['raw/2025-01-01.1.10.parquet'])
  })

  it('takes what came late for a day together with the day, so that no part of it is taken for the whole', () => {
    const late = [...sealedDay('2025-01-01', 1), ...sealedDay('2025-01-02', 2), ...sealedDay('2025-01-01', 3)]
    const now = Date.parse('2026-06-01')
    const expired = findExpired(late, now, days)
    expect(paths(expired)).toEqual(['raw/2025-01-01.1.10.parquet', 'raw/2025-01-01.3.30.parquet'])
    // kept longer from now on: what is gone must be answered from minutes
    const left = late.filter((one) => !expired.includes(one))
    expect(keptFrom(left, 'raw', { now, days: 4_000, from: Date.parse('2025-01-01') })).toBe(
      Date.parse('2025-01-02'),
    )
  })

  it('keeps hours as long as finer files of their days are there', () => {
    const short = { raw: 1, minute: 1, hour: 1 }
    const first = findExpired(old, Date.parse('2026-06-01'), short)
    expect(first.map((one) => one.tier)).toEqual(['raw', 'minute'])
    const left = old.filter((one) => !first.includes(one))
    expect(findExpired(left, Date.parse('2026-06-01'), short).map((one) => one.tier)).toEqual([
      'raw',
      'minute',
      'hour',
    ])
  })
})

describe('the trust in the clock', () => {
  it('is none before this program was written', () => {
    expect(clockFault([], 0)).toMatch(/the clock says 1970-01-01T00:00:00.000Z/)
    expect(clockFault([], Date.parse('2026-11-25'))).toBeUndefined()
  })

  it('is none before the end of a day that is sealed already', () => {
    const sealed = sealedDay('2026-12-24', 1)
    expect(clockFault(sealed, Date.parse('2026-12-24T23:59Z'))).toMatch(/later than 2026-12-25/)
    expect(clockFault(sealed, Date.parse('2026-12-25'))).toBeUndefined()
  })
})

describe('the time for which samples are kept', () => {
  const now = Date.parse('2026-11-25')
  const kept = (segments: Segment[], from: string) =>
    keptFrom(segments, 'raw', { now, days: 400, from: Date.parse(from) })

  it('is unlimited as long as nothing older was sealed', () => {
    expect(kept(sealedDay('2026-11-24', 1), '2020-01-01')).toBe(Number.NEGATIVE_INFINITY)
  })

  it('begins 400 days ago where older hours are there', () => {
    expect(
      kept([file('hour/2024.1.1.parquet'), ...sealedDay('2026-11-24', 2)], '2024-03-01'),
    ).toBeGreaterThanOrEqual(Date.parse('2025-10-21'))
    expect(kept([file('hour/2024.1.1.parquet'), ...sealedDay('2026-11-24', 2)], '2025-01-01')).toBe(
      Number.NEGATIVE_INFINITY,
    )
  })
})

describe('what goes when history has become too large', () => {
  const days = ['2026-11-20', '2026-11-21', '2026-11-22']
  const three = days.flatMap((date, i) => sealedDay(date, i + 1))

  it('is nothing while it is not', () => {
    expect(findOversize(three, 0)).toEqual([])
  })

  it('are the oldest samples, with what came late for their day, and no more than is needed', () => {
    const late = file('raw/2026-11-20.9.90.parquet')
    expect(paths(findOversize([...three, late], 1500))).toEqual([
      'raw/2026-11-20.1.10.parquet',
      'raw/2026-11-20.9.90.parquet',
    ])
  })

  it('are the oldest minutes once of the samples only the newest day is left, and never hours', () => {
    const going = paths(findOversize(three, 1_000_000))
    expect(going).toEqual([
      'raw/2026-11-20.1.10.parquet',
      'raw/2026-11-21.2.20.parquet',
      'minute/2026-11-20.1.10.parquet',
      'minute/2026-11-21.2.20.parquet',
    ])
    const left = three.filter((one) => !going.includes(one.path))
    const now = Date.parse('2026-11-23T12:00Z')
    expect(keptFrom(left, 'raw', { now, days: 400, from: 0 })).toBe(Date.parse('2026-11-22'))
  })
})
