import { cpus, release, totalmem, type } from 'node:os'
import type { Row } from './bench.ts'

/** What a figure is worth nothing without. */
export interface Setting {
  date: string
  machine: string
  node: string
}

export function readSetting(): Setting {
  const cores = cpus()
  const gigabytes = (totalmem() / 2 ** 30).toFixed(1)
  return {
    date: new Date().toISOString(),
    machine: `${cores.length} × ${cores[0]?.model.trim() ?? 'unknown'}, ${gigabytes} GiB, ${type()} ${release()}`,
    node: process.version,
  }
}

const HEAD = ['bench', 'what', 'unit', 'Headrace', 'floor', 'ratio', 'target']

/** The table as text; one remark per line below it. */
export function printTable(rows: readonly Row[], { date, machine, node }: Setting): string {
  const cells = rows.map((row) => [
    row.bench,
    row.what,
    row.unit,
    printNumber(row.headrace),
    printNumber(row.floor),
    row.ratio === undefined ? '–' : row.ratio.toFixed(2),
    row.target,
  ])
  const widths = HEAD.map((head, i) => Math.max(head.length, ...cells.map((line) => line[i]!.length)))
  const lines = [HEAD, widths.map((width) => '-'.repeat(width)), ...cells].map((line) =>
    line
      .map((cell, i) => (i >= 3 && i <= 5 ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!)))
      .join('  '),
  )
  const remarks = rows.flatMap((row) => (row.remark ? [`${row.bench}, ${row.what}: ${row.remark}`] : []))
  return [
    `${date} · ${machine} · Node ${node}`,
    'Medians of the repetitions; Headrace and floor took turns in this one run.',
    '',
    ...lines.map((line) => line.trimEnd()),
    ...remarks,
  ].join('\n')
}

function printNumber(value: number | undefined): string {
  if (value === undefined || Number.isNaN(value)) return '–'
  return value >= 1000 ? String(Math.round(value)) : value.toPrecision(3)
}
