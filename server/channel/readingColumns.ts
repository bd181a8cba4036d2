import type { Reading } from '../ingest/reading.ts'
import type { SourceDoubt } from '../ingest/sourceWatch.ts'
import type { Plant } from '../plant/plant.ts'
import type { Quality } from '../wire/figure.ts'

/** Readings as columns of equal length, in the order in which they came: no object for each. */
export interface ReadingColumns {
  /** Place of the instrument among those of all plants, one plant after the other. */
  instrument: Uint32Array
  value: Float64Array
  measuredAt: Float64Array
  receivedAt: Float64Array
  /** Quality in the two lowest bits, then age unknown, late. */
  marks: Uint8Array
  /** Row and reasons, where there are any. */
  reasons: [row: number, reasons: string[]][]
  /** Row and peak, where the instrument holds one. */
  peaks: [row: number, peak: number][]
  /** Row and doubt, where the source is in doubt. */
  doubts: [row: number, doubt: SourceDoubt][]
}

/** Readings that wait to be sent. */
export interface ReadingBuffer {
  add(reading: Reading): void
  /** Everything that waits, and how many were given up before it; nothing waits any more. */
  take(): { readings: ReadingColumns; lost: number }
  length(): number
  /** Given up since the start. */
  dropped(): number
}

const QUALITIES: readonly Quality[] = ['good', 'uncertain', 'bad']
const AGE_UNKNOWN = 4
const LATE = 8
const FIRST_ROOM = 256

/** @param limit Readings that may wait; when they are reached the older half is given up and counted. */
export function createReadingBuffer(plants: Iterable<Plant>, limit: number): ReadingBuffer {
  const places = placesOf(plants)
  let columns = roomFor(FIRST_ROOM)
  let length = 0
  let lost = 0
  let dropped = 0

  function makeRoom(): void {
    if (length < columns.value.length) return
    if (length >= limit) forgetOlderHalf()
    else columns = copyInto(roomFor(Math.min(limit, 2 * length)), columns, { from: 0, to: length })
  }

  function forgetOlderHalf(): void {
    const from = Math.ceil(length / 2)
    const kept = copyInto(roomFor(limit), columns, { from, to: length })
    columns = kept
    length -= from
    lost += from
    dropped += from
  }

  return {
    add(reading) {
      const place = places.get(reading.plant)?.get(reading.instrument)
      if (place === undefined) return
      makeRoom()
      const row = length++
      columns.instrument[row] = place
      columns.value[row] = reading.value
      columns.measuredAt[row] = reading.measuredAt
      columns.receivedAt[row] = reading.receivedAt
      columns.marks[row] =
        QUALITIES.indexOf(reading.quality) |
        (reading.ageUnknown ? AGE_UNKNOWN : 0) |
        (reading.late ? LATE : 0)
      if (reading.reasons.length > 0) columns.reasons.push([row, reading.reasons])
      if (reading.peak !== undefined) columns.peaks.push([row, reading.peak])
      if (reading.doubt) columns.doubts.push([row, reading.doubt])
    },
    take() {
      const taken = { readings: copyInto(roomFor(length), columns, { from: 0, to: length }), lost }
      columns = { ...columns, reasons: [], peaks: [], doubts: [] }
      length = 0
      lost = 0
      return taken
    },
    length: () => length,
    dropped: () => dropped,
  }
}

/** Hands every row over as the reading that it was. @param plants In the order in which they were buffered. */
export function readColumns(
  columns: ReadingColumns,
  plants: Iterable<Plant>,
  take: (reading: Reading) => void,
): void {
  const instruments = [...plants].flatMap((plant) =>
    plant.instruments.map(({ id, quantity }) => ({ plant: plant.id, instrument: id, quantity })),
  )
  const reasons = new Map(columns.reasons)
  const peaks = new Map(columns.peaks)
  const doubts = new Map(columns.doubts)
  for (let row = 0; row < columns.value.length; row++) {
    const marks = columns.marks[row]!
    const peak = peaks.get(row)
    const doubt = doubts.get(row)
    take({
      ...instruments[columns.instrument[row]!]!,
      value: columns.value[row]!,
      measuredAt: columns.measuredAt[row]!,
      receivedAt: columns.receivedAt[row]!,
      quality: QUALITIES[marks & 3]!,
      reasons: reasons.get(row) ?? [],
      ...(marks & AGE_UNKNOWN ? { ageUnknown: true } : {}),
      ...(marks & LATE ? { late: true } : {}),
      ...(peak === undefined ? {} : { peak }),
      ...(doubt === undefined ? {} : { doubt }),
    })
  }
}

function placesOf(plants: Iterable<Plant>): Map<string, Map<string, number>> {
  let place = 0
  return new Map(
    [...plants].map(({ id, instruments }) => [id, new Map(instruments.map((one) => [one.id, place++]))]),
  )
}

function roomFor(rows: number): ReadingColumns {
  return {
    instrument: new Uint32Array(rows),
    value: new Float64Array(rows),
    measuredAt: new Float64Array(rows),
    receivedAt: new Float64Array(rows),
    marks: new Uint8Array(rows),
    reasons: [],
    peaks: [],
    doubts: [],
  }
}

/** The rows from one to another, moved to the front of `target`. */
function copyInto(
  target: ReadingColumns,
  source: ReadingColumns,
  { from, to }: { from: number; to: number },
): ReadingColumns {
  target.instrument.set(source.instrument.subarray(from, to))
  target.value.set(source.value.subarray(from, to))
  target.measuredAt.set(source.measuredAt.subarray(from, to))
  target.receivedAt.set(source.receivedAt.subarray(from, to))
  target.marks.set(source.marks.subarray(from, to))
  for (const [row, reasons] of source.reasons) if (row >= from) target.reasons.push([row - from, reasons])
  for (const [row, peak] of source.peaks) if (row >= from) target.peaks.push([row - from, peak])
  for (const [row, doubt] of source.doubts) if (row >= from) target.doubts.push([row - from, doubt])
  return target
}
