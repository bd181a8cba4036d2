import type { ComponentChildren } from 'preact'

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

export function isNumeric(head: ComponentChildren): head is string {
  return typeof head === 'string' && head.startsWith('#')
}
