import { addSample, createEnvelopes, replyFrom } from '../../server/history/envelope.ts'
import { divideRange } from '../../server/history/grid.ts'
import {
  checkColumns,
  checkRewrite,
  checkSamplesQuery,
  isInstant,
  isSignalName,
  samplesReply,
} from '../../server/history/samples.ts'
import type {
  RangeQuery,
  RangeReply,
  SampleBatch,
  SamplesQuery,
  SamplesReply,
  StoreHealth,
} from '../../server/history/store.ts'
import type { Readable } from './readableHistory.ts'

interface Row {
  signal: string
  at: number
  value: number
  quality: number
}

/**
 * The simplest history that is right: a list of rows, read from end to end by every query. The contract suite holds the
 * stored one against the same rules; everything is gone with the process.
 *
 * @param rowLimit Rows kept; beyond it the oldest are dropped and counted.
 */
export function memoryStore({ rowLimit = 1_000_000 } = {}): Readable {
  let rows: Row[] = []
  let appended = 0
  let dropped = 0

  function append(batch: SampleBatch): void {
    checkColumns(batch)
    appended += batch.signals.length
    batch.signals.forEach((signal, i) => {
      const at = batch.at[i]!
      if (!isSignalName(signal) || !isInstant(at)) dropped++
      else rows.push({ signal, at: Math.floor(at), value: batch.value[i]!, quality: batch.quality[i]! })
    })
    const excess = Math.max(0, rows.length - rowLimit)
    if (excess > 0) rows = rows.slice(excess)
    dropped += excess
  }

  async function query(range: RangeQuery): Promise<RangeReply> {
    const grid = divideRange(range)
    const made = createEnvelopes(range.signals.length, grid.length)
    const envelopes = new Map(range.signals.map((signal, i) => [signal, made[i]!]))
    for (const row of rows) {
      const envelope = envelopes.get(row.signal)
      if (envelope) addSample(envelope, grid, row)
    }
    return replyFrom(grid, envelopes)
  }

  async function samples(wish: SamplesQuery): Promise<SamplesReply> {
    checkSamplesQuery(wish)
    const { from, to, lead, limit, signals } = wish
    const placed = rows
      .map((row) => ({ ...row, place: signals.indexOf(row.signal) }))
      .filter((row) => row.place >= 0 && row.at >= from - lead && row.at < to)
      .sort((a, b) => a.at - b.at)
    const before = signals.flatMap(
      (_, place) => placed.findLast((row) => row.place === place && row.at < from) ?? [],
    )
    const within = placed.filter((row) => row.at >= from)
    return samplesReply([...before.sort((a, b) => a.at - b.at), ...within].slice(0, limit + 1), wish)
  }

  function health(): StoreHealth {
    return { ok: true, appended, pending: 0, pendingLimit: rowLimit, dropped, bytesOnDisk: 0 }
  }

  return {
    lane: { paths: [], key: '' },
    open: async () => {},
    append,
    flush: async () => {},
    query,
    samples,
    async rewrite(change) {
      checkRewrite(change)
      const { signals, from, to } = change
      rows = rows.filter((row) => !signals.includes(row.signal) || row.at < from || row.at >= to)
      append(change.rows)
    },
    health,
    close: async () => {},
  }
}
