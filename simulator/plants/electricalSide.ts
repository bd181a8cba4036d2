import type { EnergyBook, Setting } from './model.ts'

export interface ElectricalOrders {
  settings: Readonly<Record<string, Setting>>
  /** Of the generator [rad/s]. */
  speed: number
  /** The over-speed switch or a person stops the machine. */
  isStopped: boolean
}

/** A generator and what it feeds, as the shaft feels it. */
export interface ElectricalSide {
  settings: Record<string, Setting>
  /** What it takes from the shaft at a speed [N·m], rotation losses not included. */
  torque(speed: number): number
  step(dt: number, orders: ElectricalOrders): void
  /** At the generator's terminals [W]; negative while it motors. */
  power(): number
  /** Losses of the generator that come with its load [W]. */
  loadLoss(): number
  /** Its own switches, in the order of their numbers. */
  trips(): boolean[]
  /** One of them wants the water shut. */
  wantsStop(): boolean
  /** Highest opening of the outlet that it bears now. */
  mostOpening(): number
  reset(settings: Readonly<Record<string, Setting>>): void
  truth(): Record<string, number>
  /** From the air gap on. */
  book(): EnergyBook
}
