import { checkColumns, isInstant, isSignalName } from '../../samples.ts'
import type { RangeQuery, SampleBatch } from '../../store.ts'
import type { UnstoredRows } from './protocol.ts'

/** Rows in the order in which they came; those before `start` were dropped. */
export interface Chunk {
  /** Number of the first row (index 0) among all rows since start. */
  firstRow: number
  start: number
  end: number
  /** Index in `names`. */
  signal: Int32Array
  at: Float64Array
  value: Float64Array
  quality: Uint8Array
}

/** Rows that are not known to be durable yet. Bounded: beyond the limit the oldest go first, and are counted. */
export interface Pending {
  names(): readonly string[]
  /** Place of a name in `names`; undefined for one that cannot be kept. */
  idOf(name: string): number | undefined
  /** @throws {RangeError} when the columns differ in length. */
  append(batch: SampleBatch): void
  /** Takes the oldest rows out for a commit; they still count as pending until `settle`. */
  take(): Chunk | undefined
  settle(): void
  /** Puts the rows taken back in front: the commit failed. */
  restore(): void
  /** The pending rows of these signals within the range, taken ones too, as they are now. */
  unstored(query: RangeQuery): UnstoredRows
  rows(): number
  appended(): number
  dropped(): number
  /** Number of the row that comes next. */
  nextRow(): number
}

const CHUNK_ROWS = 65_536
const FIRST_CAPACITY = 1_024
/** Different names in one run. More can only come from names that are made up from payloads. */
const NAME_LIMIT = 20_000

export function createPending(limit: number): Pending {
  const names: string[] = []
  const ids = new Map<string, number>()
  let waiting: Chunk[] = []
  let taken: Chunk | undefined
  let rows = 0
  let appended = 0
  let dropped = 0
  let nextRow = 0

  function idOf(name: string): number | undefined {
    const known = ids.get(name)
    if (known !== undefined) return known
    if (names.length >= NAME_LIMIT || !isSignalName(name)) return undefined
    ids.set(name, names.push(name) - 1)
    return names.length - 1
  }

  function append(batch: SampleBatch): void {
    checkColumns(batch)
    appended += batch.signals.length
    batch.signals.forEach((name, i) => {
      const at = batch.at[i]!
      const signal = idOf(name)
      if (signal === undefined || !isInstant(at)) dropped++
      else push(signal, [at, batch.value[i]!, batch.quality[i]!])
    })
    dropOldest(rows - limit)
  }

  function push(signal: number, [at, value, quality]: [number, number, number]): void {
    let chunk = waiting.at(-1)
    if (!chunk || chunk.end === CHUNK_ROWS) {
      chunk = createChunk(nextRow)
      waiting.push(chunk)
    } else if (chunk.end === chunk.signal.length) grow(chunk)
    const i = chunk.end++
    chunk.signal[i] = signal
    chunk.at[i] = Math.floor(at)
    chunk.value[i] = value
    chunk.quality[i] = quality
    nextRow++
    rows++
  }

  function dropOldest(excess: number): void {
    let left = excess
    while (left > 0 && waiting.length > 0) {
      const chunk = waiting[0]!
      const now = Math.min(left, chunk.end - chunk.start)
      chunk.start += now
      left -= now
      rows -= now
      dropped += now
      if (chunk.start === chunk.end) waiting.shift()
    }
  }

  return {
    names: () => names,
    idOf,
    append,
    take() {
      taken ??= waiting.shift()
      return taken
    },
    settle() {
      if (taken) rows -= taken.end - taken.start
      taken = undefined
    },
    restore() {
      if (taken) waiting = [taken, ...waiting]
      taken = undefined
      dropOldest(rows - limit)
    },
    unstored({ signals, from, to }) {
      const places = new Map<number | undefined, number>()
      for (const [place, name] of [...new Set(signals)].entries()) places.set(ids.get(name), place)
      places.delete(undefined)
      const isWanted = ({ signal, at }: Chunk, i: number) =>
        at[i]! >= from && at[i]! < to && places.has(signal[i]!)
      return pick(taken ? [taken, ...waiting] : waiting, isWanted, places)
    },
    rows: () => rows,
    appended: () => appended,
    dropped: () => dropped,
    nextRow: () => nextRow,
  }
}

function createChunk(firstRow: number): Chunk {
  return {
    firstRow,
    start: 0,
    end: 0,
    signal: new Int32Array(FIRST_CAPACITY),
    at: new Float64Array(FIRST_CAPACITY),
    value: new Float64Array(FIRST_CAPACITY),
    quality: new Uint8Array(FIRST_CAPACITY),
  }
}

function grow(chunk: Chunk): void {
  const capacity = Math.min(CHUNK_ROWS, chunk.signal.length * 2)
  const { signal, at, value, quality } = chunk
  chunk.signal = new Int32Array(capacity)
  chunk.at = new Float64Array(capacity)
  chunk.value = new Float64Array(capacity)
  chunk.quality = new Uint8Array(capacity)
  chunk.signal.set(signal)
  chunk.at.set(at)
  chunk.value.set(value)
  chunk.quality.set(quality)
}

/** Counts first, so that a day on which the disk takes nothing costs no more memory than its rows. */
function pick(
  chunks: readonly Chunk[],
  isWanted: (chunk: Chunk, i: number) => boolean,
  places: ReadonlyMap<number | undefined, number>,
): UnstoredRows {
  let length = 0
  for (const chunk of chunks) for (let i = chunk.start; i < chunk.end; i++) if (isWanted(chunk, i)) length++
  const rows: UnstoredRows = {
    row: new Float64Array(length),
    place: new Uint16Array(length),
    at: new Float64Array(length),
    value: new Float64Array(length),
    quality: new Uint8Array(length),
  }
  let to = 0
  for (const chunk of chunks)
    for (let i = chunk.start; i < chunk.end; i++) {
      if (!isWanted(chunk, i)) continue
      rows.row[to] = chunk.firstRow + i
      rows.place[to] = places.get(chunk.signal[i])!
      rows.at[to] = chunk.at[i]!
      rows.value[to] = chunk.value[i]!
      rows.quality[to] = chunk.quality[i]!
      to++
    }
  return rows
}
