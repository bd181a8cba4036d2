import { type EfficiencyDesign, lossCurves } from './lossCurve.ts'
import { emf, type PermanentMagnetDesign } from './permanentMagnetGenerator.ts'
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

export interface MagnetMachineDesign {
  kind: 'permanentMagnet'
  electrical: PermanentMagnetDesign
  ratedSpeed: number
}

/** Permanent-magnet machine without any regulator: V = E / |1 + (R + jX)·(G − jB)|, E and X with the speed. */
export function createMagnetMachine(
  { electrical, ratedSpeed }: MagnetMachineDesign,
  load: () => PhaseLoad,
): IslandMachine {
  const { resistance, inductance, polePairs } = electrical
  let speed = ratedSpeed
  function voltage(): number {
    const { conductance, susceptance } = load()
    const reactance = polePairs * speed * inductance
    const real = 1 + resistance * conductance + reactance * susceptance
    return emf(electrical, speed) / Math.hypot(real, reactance * conductance - resistance * susceptance)
  }
  const current = () => voltage() * Math.hypot(load().conductance, load().susceptance)
  return {
    voltage,
    current,
    power: () => 3 * voltage() ** 2 * load().conductance,
    loadLoss: () => 3 * current() ** 2 * resistance,
    step(_dt, now) {
      speed = now
    },
  }
}
