import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { readSetting } from '../bench/printTable.ts'
import { root } from './root.ts'

const FILE = join(root, 'test/RESULTS.md')

/**
 * Puts what a command measured into its block of test/RESULTS.md, in place of what stood there, with date, machine and the command.
 *
 * @param text Markdown without a heading.
 */
export function recordResults(block: string, command: string, text: string): void {
  const { date, machine, node } = readSetting()
  const head = `${date.slice(0, 16).replace('T', ' ')} UTC · ${machine} · Node ${node} · \`${command}\``
  writeFileSync(FILE, replaceBlock(readFileSync(FILE, 'utf8'), block, `${head}\n\n${text.trim()}`))
}

/** @throws {RangeError} where the page has no such block. */
export function replaceBlock(page: string, block: string, text: string): string {
  const [begin, end] = [`<!-- ${block}:begin -->`, `<!-- ${block}:end -->`]
  const [from, to] = [page.indexOf(begin), page.indexOf(end)]
  if (from < 0 || to < from) throw new RangeError(`RESULTS.md has no block "${block}"`)
  return `${page.slice(0, from + begin.length)}\n${text}\n${page.slice(to)}`
}

/** A table of Markdown. */
export function markdownTable(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n')
}
