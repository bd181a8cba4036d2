/** What a column may be. */
const KINDS = { Float64Array, Uint32Array, Uint16Array, Uint8Array }
type Kind = keyof typeof KINDS
type Column = InstanceType<(typeof KINDS)[Kind]>

/** Stands in the text for a column; the columns follow the text in the same order. */
interface Place {
  column: Kind
  length: number
}

/** Columns begin at whole numbers of so many bytes, so that they can be used where they lie. */
const STEP = 8

/**
 * Plain data with columns, as bytes that are not copied: the length of the text (4 bytes, the lowest first), the text as JSON, the
 * columns as they lie in memory. For processes of one machine: numbers have its order of bytes. Numbers outside columns must be finite.
 */
export function pack(data: object): Uint8Array[] {
  const columns: Uint8Array[] = []
  const text = JSON.stringify(data, (_, value: unknown) => {
    if (!isColumn(value)) return value
    columns.push(new Uint8Array(value.buffer, value.byteOffset, value.byteLength), gap(value.byteLength))
    return { column: value.constructor.name as Kind, length: value.length } satisfies Place
  })
  const bytes = Buffer.from(text)
  const head = Buffer.alloc(4)
  head.writeUInt32LE(bytes.length)
  return [head, bytes, gap(head.length + bytes.length), ...columns]
}

/** What `pack` was given; the columns lie in `bytes`, which begin at a whole number of 8 bytes. */
export function unpack(bytes: Buffer): unknown {
  const size = bytes.readUInt32LE()
  let at = bytes.byteOffset + toStep(4 + size)
  return JSON.parse(bytes.toString('utf8', 4, 4 + size), (_, value: unknown) => {
    if (!isPlace(value)) return value
    const column = new KINDS[value.column](bytes.buffer as ArrayBuffer, at, value.length)
    at += toStep(column.byteLength)
    return column
  })
}

function isColumn(value: unknown): value is Column {
  return Object.values(KINDS).some((kind) => value instanceof kind)
}

function isPlace(value: unknown): value is Place {
  return typeof value === 'object' && value !== null && 'column' in value
}

function toStep(bytes: number): number {
  return Math.ceil(bytes / STEP) * STEP
}

function gap(bytes: number): Uint8Array {
  return new Uint8Array(toStep(bytes) - bytes)
}
