import type { ComponentChildren } from 'preact'
import type { Polled } from '../../connect/poll.ts'
import type { ScreenName } from '../screens.ts'
import { ScreenGround } from './ground.tsx'
import { Sign } from './panel.tsx'

export interface PolledScreenProps {
  screen: ScreenName
  title: string
  asked: Polled<unknown>
  /** A sentence on what is shown all the same. */
  kept: string
  children: ComponentChildren
}

/** A screen of the page that asks the server again and again: says when what it shows may be out of date. */
export function PolledScreen({ screen, title, asked, kept, children }: PolledScreenProps) {
  const error = asked.error.value
  return (
    <ScreenGround class="screen" screen={screen} isWithheld={error !== null} at={asked.answeredAt.value}>
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
    </ScreenGround>
  )
}
