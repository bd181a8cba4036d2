import type { ComponentChildren, HTMLAttributes } from 'preact'

interface FactProps extends HTMLAttributes<HTMLDivElement> {
  word: ComponentChildren
}

/** One line of a list of facts, a `<dl>`: what it is, and what is known of it. */
export function Fact({ word, children, ...attributes }: FactProps) {
  return (
    <div {...attributes}>
      <dt>{word}</dt>
      <dd>{children}</dd>
    </div>
  )
}
