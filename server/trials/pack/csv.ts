/**
 * One line of comma-separated values after RFC 4180. A text that a spreadsheet would run as a formula gets an
 * apostrophe before it.
 */
export function csvLine(cells: readonly (string | number)[]): string {
  return `${cells.map(cellOf).join(',')}\r\n`
}

function cellOf(cell: string | number): string {
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : ''
  const safe = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}
