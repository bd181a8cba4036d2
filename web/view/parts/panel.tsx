import type { ComponentChildren } from 'preact'

export interface PanelProps {
  id: string
  title: string
  /** Beside the title: how many, or a few quiet words. */
  count?: ComponentChildren
  /** Beside the title: a choice. */
  aside?: ComponentChildren
  children: ComponentChildren
}

/** A titled part of a screen. */
export function Panel({ id, title, count, aside, children }: PanelProps) {
  return (
    <section class={`panel panel-${id}`} aria-labelledby={`title-${id}`} data-panel={id}>
      <div class="panel-head">
        <h2 id={`title-${id}`}>{title}</h2>
        {count !== undefined && <span class="count">{count}</span>}
        {aside}
      </div>
      {children}
    </section>
  )
}

/** On everything that does not come from a real plant. */
export function SimStamp() {
  return (
    <span class="sim-stamp" title="Simulated: these figures come from a computation, not from a plant">
      SIM<span class="spoken">ulated</span>
    </span>
  )
}

/** Something is wrong here: seen, for the words beside it are read aloud. */
export function Sign() {
  return (
    <span class="banner-sign" aria-hidden="true">
      !
    </span>
  )
}
