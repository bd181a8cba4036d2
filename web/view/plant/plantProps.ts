import type { Signal } from '@preact/signals'
import type { Connection } from '../../connect/connection.ts'
import type { PlantHold } from '../../hold/plantHold.ts'

/** What every part of this screen is given. */
export interface PlantProps {
  connection: Connection
  hold: PlantHold
  /** Opens the details of a figure. */
  open: (figure: string) => void
}

export type DepthProps = PlantProps & {
  /** Figure whose details are open. */
  selected: Signal<string | null>
}
