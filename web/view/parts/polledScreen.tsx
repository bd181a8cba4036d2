import type { ComponentChildren } from 'preact'
import type { ScreenName } from '../screens.ts'
import { Sign } from './panel.tsx'

export interface PolledScreenProps {
  screen: ScreenName
  title: string
  /** Why the last question was not answered. */
  error: string | null
  /** A sentence on what is shown all the same. */
  kept: string
  children: ComponentChildren
}

/** A screen of the page that asks the server again and again: says when what it shows may be out of date. */
export function PolledScreen({ screen, title, error, kept, children }: PolledScreenProps) {
  return (
    <div class="screen" data-screen={screen} data-withheld={error !== null}>
      <h1>{title}</h1>
      {error && (
        <p class="banner" role="status" data-banner="lost">
          <Sign />
          <span>
            {error} {kept}
          </span>
        </p>
      )}
      {children}
    </div>
  )
}
