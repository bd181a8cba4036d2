import { escapeMarkup } from '../plot/plotText.ts'

/** Small pieces of HTML; every text is escaped here and nowhere else. */

export const paragraph = (text: string, look = '') =>
  `<p${look && ` class="${look}"`}>${escapeMarkup(text)}</p>`

export const heading = (level: 1 | 2 | 3, text: string) => `<h${level}>${escapeMarkup(text)}</h${level}>`

export function listOf(items: readonly string[], kind: 'ul' | 'ol' = 'ul'): string {
  if (items.length === 0) return ''
  return `<${kind}>${items.map((item) => `<li>${escapeMarkup(item)}</li>`).join('')}</${kind}>`
}

/** Name and text, one below the other; those without a text are left out. */
export function factsOf(facts: readonly (readonly [name: string, text: string])[]): string {
  const rows = facts.filter(([, text]) => text !== '')
  const body = rows.map(([name, text]) => `<dt>${escapeMarkup(name)}</dt><dd>${escapeMarkup(text)}</dd>`)
  return `<dl class="facts">${body.join('')}</dl>`
}

export interface TableColumn {
  title: string
  isNumber?: boolean
}

/** @param looks Class of each row, "" for none. */
export function tableOf(
  columns: readonly TableColumn[],
  rows: readonly (readonly string[])[],
  looks: readonly string[] = [],
): string {
  const lookOf = (i: number) => (columns[i]?.isNumber ? ' class="number"' : '')
  const head = columns.map(({ title }, i) => `<th scope="col"${lookOf(i)}>${escapeMarkup(title)}</th>`)
  const body = rows.map((row, at) => {
    const look = looks[at] ? ` class="${looks[at]}"` : ''
    return `<tr${look}>${row.map((cell, i) => `<td${lookOf(i)}>${escapeMarkup(cell)}</td>`).join('')}</tr>`
  })
  return `<table><thead><tr>${head.join('')}</tr></thead><tbody>${body.join('')}</tbody></table>`
}
