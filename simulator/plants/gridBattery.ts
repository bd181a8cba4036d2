import { type BatteryDesign, createBattery } from './battery.ts'

/** Power [W] over frequency [Hz]: none at `from`, all at `full`. */
interface Droop {
  from: number
  full: number
  power: number
}

export interface GridBatteryDesign {
  battery: BatteryDesign
  charge: Droop
  discharge: Droop
  /** Response of the inverter [s]. */
  lag: number
  /** One way. */
  efficiency: number
}

/** Below this frequency [Hz] the inverter separates itself. */
const LOWEST_FREQUENCY = 40

/** Battery behind an inverter that helps a grid of its own by its frequency. */
export function createGridBattery(design: GridBatteryDesign) {
  const { charge, discharge, efficiency } = design
  const battery = createBattery(design.battery)
  let rating = charge.power
  let voltageShare = 1

  function wanted(isOn: boolean, frequency: number): number {
    if (!isOn || frequency < LOWEST_FREQUENCY) return 0
    if (frequency > charge.from) {
      // Charging tapers off over the last tenth.
      const room = Math.min(1, Math.max(0, (1 - battery.stateOfCharge()) / 0.1))
      return shareOf(frequency, charge) * charge.power * room
    }
    return battery.stateOfCharge() < 0.1 ? 0 : -shareOf(frequency, discharge) * discharge.power
  }

  const atGrid = () => rating * voltageShare
  /** Into the battery at its terminals [W]; the inverter's loss counts against it both ways. */
  const intoBattery = () => (atGrid() > 0 ? atGrid() * efficiency : atGrid() / efficiency)

  return {
    /** What it takes at rated voltage [W]; negative when it gives. */
    rating: () => rating,
    step(dt: number, now: { isOn: boolean; frequency: number; voltageShare: number }): void {
      voltageShare = now.voltageShare
      rating += ((wanted(now.isOn, now.frequency) - rating) * dt) / design.lag
      battery.step(dt, intoBattery() / battery.voltage())
    },
    truth: battery.truth,
    lost: () => ({ inverter: Math.abs(atGrid() - intoBattery()), battery: battery.loss() }),
    stored: battery.storedEnergy,
  }
}

function shareOf(frequency: number, { from, full }: Droop): number {
  return Math.min(1, Math.max(0, (frequency - from) / (full - from)))
}
