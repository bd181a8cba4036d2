import { signal } from '@preact/signals'
import type { ComponentChildren } from 'preact'

export interface FoldProps {
  title: string
  /** Beside the title: what is inside, so that nobody has to look. */
  note?: ComponentChildren
  /** Folded on a desk too. */
  always?: boolean
  /** Unfolded at first. */
  isOpen?: boolean
  children: ComponentChildren
}

/** On a phone a line that opens; elsewhere just its content. */
export function Fold({ title, note, always = false, isOpen, children }: FoldProps) {
  if (!always && !isNarrow.value) return <>{children}</>
  return (
    <details class="fold" {...(isOpen ? { open: true } : {})}>
      <summary>
        <b>{title}</b> <span class="fold-note">{note}</span>
      </summary>
      {children}
    </details>
  )
}

/** The stylesheets turn at the same width. */
const query = globalThis.matchMedia?.('(max-width: 699px)')

/** True on a phone, where what is not needed first is folded away. */
export const isNarrow = signal(query?.matches ?? false)

query?.addEventListener('change', () => {
  isNarrow.value = query.matches
})
