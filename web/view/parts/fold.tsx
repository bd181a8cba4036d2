import type { ComponentChildren } from 'preact'
import { isNarrow } from './narrow.ts'

export interface FoldProps {
  title: string
  /** Beside the title: what is inside, so that nobody has to look. */
  note?: ComponentChildren
  /** Folded on a desk too. */
  always?: boolean
  children: ComponentChildren
}

/** On a phone a line that opens; elsewhere just its content. */
export function Fold({ title, note, always = false, children }: FoldProps) {
  if (!always && !isNarrow.value) return <>{children}</>
  return (
    <details class="fold">
      <summary>
        <b>{title}</b> <span class="fold-note">{note}</span>
      </summary>
      {children}
    </details>
  )
}
