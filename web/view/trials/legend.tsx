export interface LegendItem {
  name: string
  /** Class of the mark, which has the colour and the kind of line. */
  mark: string
  /** The shape of its points. */
  shape?: string
  /** Where the line stands in the plant file. */
  theory?: string
}

/** What the lines and points of a chart are. */
export function Legend({ items }: { items: readonly LegendItem[] }) {
  if (items.length === 0) return null
  return (
    <ul class="row legend curve-legend">
      {items.map(({ name, mark, shape, theory }, i) => (
        <li key={`${i} ${name}`} data-theory={theory}>
          <span class={mark} aria-hidden="true">
            {shape}
          </span>
          {name}
        </li>
      ))}
    </ul>
  )
}
