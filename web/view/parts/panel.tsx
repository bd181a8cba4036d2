import type { ComponentChildren } from 'preact'
import { LastKnownMark } from './ground.tsx'

export interface PanelProps {
  id: string
  title: string
  /** Beside the title: how many, or a few quiet words. */
  count?: ComponentChildren
  /** Beside the title: a choice. */
  aside?: ComponentChildren
  /** The same whether the server is there or not. */
  isStill?: boolean
  children: ComponentChildren
}

/** A titled part of a screen. */
export function Panel({ id, title, count, aside, isStill = false, children }: PanelProps) {
  return (
    <section
      class={`panel panel-${id}`}
      aria-labelledby={`title-${id}`}
      data-panel={id}
      data-still={isStill || undefined}
    >
      <div class="panel-head">
        <h2 id={`title-${id}`}>{title}</h2>
        {count !== undefined && <span class="count">{count}</span>}
        {!isStill && <LastKnownMark />}
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
