import { type ComponentChildren, createContext } from 'preact'
import { useContext, useMemo } from 'preact/hooks'
import { clockTime, localZone } from '../../format/time.ts'

/** What is shown is not from now. */
interface Withheld {
  /** When it was last known to be true [ms UTC]; null: nobody knows. */
  at: number | null
  zone: string
}

const Ground = createContext<Withheld | null>(null)

interface GroundProps {
  class?: string | undefined
  screen: string
  /** The projector has no frame that would be the main part of the page. */
  as?: 'div' | 'main'
  isSimulated?: boolean | undefined
  /** False while what is shown is from now. */
  isWithheld: boolean
  at: number | null
  zone?: string | undefined
  room?: string
  children: ComponentChildren
}

/**
 * What every screen stands on that shows something live. While nothing comes, all on it turns at once: figures are
 * hatched, panels say of when they are, and what sends something to the server is out of use.
 */
export function ScreenGround(props: GroundProps) {
  const { as: Tag = 'div', screen, isSimulated, isWithheld, at, zone = localZone, room, children } = props
  const withheld = useMemo(() => (isWithheld ? { at, zone } : null), [isWithheld, at, zone])
  return (
    <Tag
      class={props.class}
      data-screen={screen}
      data-simulated={isSimulated}
      data-room={room}
      data-withheld={isWithheld}
    >
      <Ground.Provider value={withheld}>{children}</Ground.Provider>
    </Tag>
  )
}

/** Null while what is shown is from now; else of when it is, in words. */
export function useLastKnown(): string | null {
  const withheld = useContext(Ground)
  if (!withheld) return null
  return withheld.at === null ? 'an unknown time' : clockTime(withheld.at, withheld.zone)
}

/** Of when a panel is that nothing comes to. */
export function LastKnownMark() {
  const at = useLastKnown()
  return at && <span class="last-known">Last known {at}</span>
}
