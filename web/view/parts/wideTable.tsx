import { type ComponentChildren, Fragment } from 'preact'
import { isNarrow } from './fold.tsx'
import { Sign } from './panel.tsx'

export interface WideRow {
  key: string
  /** Something is lost or faulty: the row is marked with a sign, not by colour alone. */
  isBad: boolean
  cells: ComponentChildren[]
  remark?: string
}

export interface WideTableProps {
  caption: string
  heads: string[]
  /** Head of the remarks: a last column, or on a phone a line of its own below the row. */
  remarkHead?: string
  rows: WideRow[]
}

/** A table of many columns; on a phone it scrolls inside its panel. */
export function WideTable({ caption, heads, remarkHead, rows }: WideTableProps) {
  const hasColumn = remarkHead !== undefined && !isNarrow.value
  const at = (column: number) => (isNumeric(heads[column]) ? 'at-right number' : undefined)
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
    <section class="wide-table" tabIndex={0} aria-label={caption}>
      <table>
        <caption>{caption}</caption>
        <TableHead heads={hasColumn ? [...heads, remarkHead] : heads} />
        <tbody>
          {rows.map(({ key, isBad, cells, remark }) => (
            <Fragment key={key}>
              <tr data-row={key} class={isBad ? 'row-bad' : undefined}>
                <th scope="row">
                  {isBad && <Sign />}
                  {cells[0]}
                </th>
                {cells.slice(1).map((cell, column) => (
                  <td key={heads[column + 1]} class={at(column + 1)}>
                    {cell}
                  </td>
                ))}
                {hasColumn && <td>{remark}</td>}
              </tr>
              {remark && !hasColumn && (
                <tr class="remark-row">
                  <td colSpan={heads.length}>{remark}</td>
                </tr>
              )}
            </Fragment>
          ))}
        </tbody>
      </table>
    </section>
  )
}

/** Heads of columns; a leading "#" sets the column at the right, for numbers. */
export function TableHead({ heads }: { heads: readonly ComponentChildren[] }) {
  return (
    <thead>
      <tr>
        {heads.map((head, column) => (
          <th scope="col" key={column} class={isNumeric(head) ? 'at-right number' : undefined}>
            {isNumeric(head) ? head.slice(1) : head}
          </th>
        ))}
      </tr>
    </thead>
  )
}

function isNumeric(head: ComponentChildren): head is string {
  return typeof head === 'string' && head.startsWith('#')
}
