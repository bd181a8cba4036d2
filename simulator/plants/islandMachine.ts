import { type EfficiencyDesign, lossCurves } from './lossCurve.ts'
import { createSynchronousGenerator, type PhaseLoad, type SynchronousDesign } from './synchronousGenerator.ts'

export interface SynchronousMachineDesign {
  kind: 'synchronous'
  electrical: SynchronousDesign
  losses: EfficiencyDesign
}

/** A generator that makes the voltage and frequency of a grid of its own. */
export interface IslandMachine {
  /** Of a phase [V RMS], [A RMS]. */
  voltage(): number
  current(): number
  /** At the terminals [W]. */
  power(): number
  /** Losses that come with the load [W]. */
  loadLoss(): number
  step(dt: number, speed: number): void
}

/** Below this share of rated speed the exciter gives nothing: the machine coasts. */
const LOWEST_SHARE = 0.13

/** Synchronous machine with its voltage regulator; iron, windage, excitation and copper are those of its data sheet. */
export function createSynchronousMachine(
  { electrical, losses }: SynchronousMachineDesign,
  load: () => PhaseLoad,
): IslandMachine {
  const generator = createSynchronousGenerator(electrical, load())
  const lossOverOutput = lossCurves(losses).overOutput
  let isExcited = true
  const power = () => (isExcited ? 3 * generator.voltage() ** 2 * load().conductance : 0)
  return {
    voltage: generator.voltage,
    current: generator.current,
    power,
    loadLoss: () => lossOverOutput(power()) - losses.noLoadLoss,
    step(dt, speed) {
      generator.step(dt, speed, load())
      isExcited = speed >= LOWEST_SHARE * electrical.ratedSpeed
    },
  }
}
