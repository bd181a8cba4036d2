import { type InductionDesign, inductionTorque } from './inductionGenerator.ts'

/** What the grid offers at the terminals. */
export interface GridState {
  isConnected: boolean
  /** Present over rated frequency, and phase voltage [V]. */
  frequencyShare: number
  voltage: number
}

/** A machine whose speed a grid holds. */
export interface GridMachine {
  /** What it takes from the shaft at a speed [N·m], rotation losses not included. */
  torque(speed: number): number
  step(dt: number, speed: number, grid: GridState): void
  /** Given to the grid [var] at an active power [W]. */
  reactive(power: number): number
  /** It may be connected at this speed. */
  mayConnect(speed: number): boolean
  /** While it is run up: it wants no more water at this speed. */
  isTooFast(speed: number): boolean
  /** Out of step with the grid. */
  isLost(): boolean
}

export interface InductionMachineDesign extends InductionDesign {
  kind: 'induction'
  /** Drawn without load and when rated, and given by fixed capacitors [var]. */
  reactive: { noLoad: number; rated: number; capacitors: number }
  ratedPower: number
  /** Share of synchronous speed at which it is connected. */
  connectAt: number
}

export function createInductionMachine(design: InductionMachineDesign): GridMachine {
  let grid: GridState = { isConnected: true, frequencyShare: 1, voltage: 0 }
  return {
    torque: (speed) => (grid.isConnected ? inductionTorque(design, speed, grid.frequencyShare) : 0),
    step(_dt, _speed, now) {
      grid = now
    },
    reactive(power) {
      const { noLoad, rated, capacitors } = design.reactive
      return capacitors - noLoad - (rated - noLoad) * (power / design.ratedPower) ** 2
    },
    mayConnect: (speed) => speed >= design.connectAt * design.synchronousSpeed,
    isTooFast: () => false,
    isLost: () => false,
  }
}

export interface SynchronousMachineDesign {
  kind: 'synchronous'
  synchronousSpeed: number
  polePairs: number
  /** Transient, per phase [Ω]. */
  reactance: number
  /** Of the rated state: through the air gap [W], given [var], phase [V]. */
  rated: { gapPower: number; reactive: number; voltage: number }
}

/** Torque of the damper winding over slip, in rated torques (from memory, middle of the usual span). */
const DAMPING = 15
/** Connected within this share of synchronous speed (common practice, no source). */
const WINDOW = 0.005

/**
 * Constant EMF behind the transient reactance: P = 3·E·V/X · sin δ, dδ/dt = p·(ω − ω_s), with the torque of a damper
 * winding beside it (classical model of a machine on an infinite bus).
 *
 * Limits: the field does not follow, so the reactive power is right near the rated state only.
 */
export function createSynchronousOnGrid(design: SynchronousMachineDesign): GridMachine {
  const { synchronousSpeed, polePairs, reactance, rated } = design
  const along = rated.voltage + (rated.reactive * reactance) / (3 * rated.voltage)
  const across = (rated.gapPower * reactance) / (3 * rated.voltage)
  const emf = Math.hypot(along, across)
  const ratedTorque = rated.gapPower / synchronousSpeed
  let angle = Math.atan2(across, along)
  let grid: GridState = { isConnected: true, frequencyShare: 1, voltage: rated.voltage }
  return {
    torque(speed) {
      if (!grid.isConnected) return 0
      const power = ((3 * emf * grid.voltage) / reactance) * Math.sin(angle)
      return (
        power / synchronousSpeed + DAMPING * ratedTorque * (speed / synchronousSpeed - grid.frequencyShare)
      )
    },
    step(dt, speed, now) {
      grid = now
      angle = now.isConnected ? angle + polePairs * (speed - synchronousSpeed * now.frequencyShare) * dt : 0
    },
    reactive: () => (3 * grid.voltage * (emf * Math.cos(angle) - grid.voltage)) / reactance,
    mayConnect: (speed) => Math.abs(speed / synchronousSpeed - grid.frequencyShare) < WINDOW,
    isTooFast: (speed) => speed > synchronousSpeed * grid.frequencyShare,
    isLost: () => Math.abs(angle) > Math.PI,
  }
}
