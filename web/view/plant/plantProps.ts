import type { Signal } from '@preact/signals'
import type { Session } from '../../connect/session.ts'
import type { PlantHold } from '../../hold/plantHold.ts'

/** What every part of this screen is given. */
export interface PlantProps {
  session: Session
  hold: PlantHold
  /** Opens the details of a figure. */
  open: (figure: string) => void
}

export type DepthProps = PlantProps & {
  /** Figure whose details are open. */
  selected: Signal<string | null>
}
