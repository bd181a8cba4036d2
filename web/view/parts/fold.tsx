import type { ComponentChildren } from 'preact'

/** Up to here a screen is narrow: what is not first in need is folded away. */
const NARROW = '(max-width: 700px)'

export interface FoldProps {
  title: string
  /** Beside the title: what is inside, so that nobody has to look. */
  note?: ComponentChildren
  children: ComponentChildren
}

/** On a phone a line that opens; elsewhere just its content. */
export function Fold({ title, note, children }: FoldProps) {
  if (!matchMedia(NARROW).matches) return <>{children}</>
  return (
    <details class="fold">
      <summary>
        {title} <span class="quiet">{note}</span>
      </summary>
      {children}
    </details>
  )
}
