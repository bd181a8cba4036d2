/** What stands in a cell; what is not known is empty. */
type Cell = string | number | null | undefined

/** Columns of a table by their headings: what each says of a row. */
export type Columns<Row> = Readonly<Record<string, (row: Row) => Cell>>

/** Columns of several figures, or groups of them, in one. */
export function joinColumns<Row>(parts: readonly Columns<Row>[]): Columns<Row> {
  return Object.fromEntries(parts.flatMap((one) => Object.entries(one)))
}

/**
 * Comma-separated values after RFC 4180: the headings, then a line for each row. A text that a spreadsheet would run as
 * a formula gets an apostrophe before that, also behind a semicolon, where many spreadsheets split.
 */
export function csvTable<Row>(rows: readonly Row[], columns: Columns<Row>): string {
  const readers = Object.values(columns)
  const lines = [Object.keys(columns), ...rows.map((row) => readers.map((read) => read(row)))]
  return lines.map((cells) => `${cells.map(cellOf).join(',')}\r\n`).join('')
}

/** A time as the tables have it. */
export function utc(at: number): string {
  return new Date(at).toISOString()
}

/**
 * What a spreadsheet that splits at semicolons or tabs sees as the beginning of a cell that it would run: it does not
 * take the quotes of a table with commas for quotes.
 */
const BEFORE_FORMULA = /(?:^|[;\t\r\n])[\s"]*(?=[=+\-@])|^(?=[\t\r])/g

function cellOf(cell: Cell): string {
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : ''
  const text = cell ?? ''
  const safe = text.replace(BEFORE_FORMULA, "$&'")
  return /[",;\t\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}
