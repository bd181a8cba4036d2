import {
  BIGINT,
  DOUBLE,
  type DuckDBConnection,
  DuckDBDataChunk,
  type DuckDBVector,
  INTEGER,
  UTINYINT,
} from '@duckdb/node-api'
import type { CommitRequest } from './protocol.ts'

const CHUNK_ROWS = 2048
const TYPES = [INTEGER, BIGINT, DOUBLE, UTINYINT, INTEGER]
const TWO_32 = 4_294_967_296

/** The typed array behind a vector of fixed-width values. Not in the package's types, so it is said here once. */
function itemsOf<T>(vector: DuckDBVector): T {
  return (vector as unknown as { items: T }).items
}

/**
 * Appends the rows of one commit to the hot table, within the transaction that is open.
 * A value that is no finite number becomes NULL: an explicit gap.
 *
 * @param ids Number of each name in the signal table, in the order in which the names were sent.
 */
export async function appendRows(
  writer: DuckDBConnection,
  request: CommitRequest,
  ids: readonly number[],
): Promise<void> {
  const appender = await writer.createAppender('hot')
  try {
    for (let start = 0; start < request.signal.length; start += CHUNK_ROWS)
      appender.appendDataChunk(chunkOf(request, ids, start))
  } finally {
    appender.closeSync()
  }
}

function chunkOf(request: CommitRequest, ids: readonly number[], start: number): DuckDBDataChunk {
  const rows = Math.min(CHUNK_ROWS, request.signal.length - start)
  const chunk = DuckDBDataChunk.create(TYPES, rows)
  const [signal, at, value, quality, commit] = TYPES.map((_, i) => chunk.getColumnVector(i))
  const signals = itemsOf<Int32Array>(signal!)
  const values = itemsOf<Float64Array>(value!)
  for (let i = 0; i < rows; i++) signals[i] = ids[request.signal[start + i]!]!
  writeInstants(itemsOf<BigInt64Array>(at!), request.at.subarray(start, start + rows))
  values.set(request.value.subarray(start, start + rows))
  for (let i = 0; i < rows; i++) if (!Number.isFinite(values[i])) value!.setItem(i, null)
  itemsOf<Uint8Array>(quality!).set(request.quality.subarray(start, start + rows))
  itemsOf<Int32Array>(commit!).fill(request.commit)
  for (const vector of [signal, at, value, quality, commit]) vector!.flush()
  return chunk
}

/** Whole milliseconds into 64-bit integers by halves, since one BigInt object per row costs more than the rest. */
function writeInstants(target: BigInt64Array, at: Float64Array): void {
  const halves = new Uint32Array(target.buffer, target.byteOffset, target.length * 2)
  for (let i = 0; i < at.length; i++) {
    const whole = Math.floor(at[i]!)
    halves[2 * i] = whole % TWO_32
    halves[2 * i + 1] = Math.floor(whole / TWO_32)
  }
}
