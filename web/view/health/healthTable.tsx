import type { ComponentChildren } from 'preact'

export interface HealthRow {
  key: string
  /** Something is lost or faulty: the row is marked with a sign, not by colour alone. */
  isBad: boolean
  cells: ComponentChildren[]
}

export interface HealthTableProps {
  caption: string
  /** Column heads; a leading "#" sets the column at the right, for numbers. */
  heads: string[]
  rows: HealthRow[]
}

export function HealthTable({ caption, heads, rows }: HealthTableProps) {
  const at = (column: number) => (heads[column]?.startsWith('#') ? 'at-right number' : undefined)
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
    <section class="table-room" tabIndex={0} aria-label={caption}>
      <table class="health-table">
        <caption>{caption}</caption>
        <thead>
          <tr>
            {heads.map((head, column) => (
              <th scope="col" key={head} class={at(column)}>
                {head.replace('#', '')}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ key, isBad, cells }) => (
            <tr key={key} data-row={key} class={isBad ? 'row-bad' : undefined}>
              {cells.map((cell, column) => (
                <td key={heads[column]} class={at(column)}>
                  {column === 0 && isBad && <span class="banner-sign">!</span>}
                  {cell}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
