import type { ElectricalSide } from './electricalSide.ts'
import {
  createInductionMachine,
  createSynchronousOnGrid,
  type InductionMachineDesign,
  type SynchronousMachineDesign,
} from './gridMachine.ts'
import { type EfficiencyDesign, lossCurves } from './lossCurve.ts'
import { onThreePhases } from './model.ts'
import { createTripSwitch, createWander } from './parts.ts'

export interface GridDesign {
  kind: 'grid'
  machine: InductionMachineDesign | SynchronousMachineDesign
  losses: EfficiencyDesign
  /** Of a phase [V], and [Hz]. */
  voltage: number
  frequency: number
  ratedPower: number
  /** The grid is gone for this long when the mains relay opens [s]. */
  relayDelay: number
  /** Opening while the machine is run up. */
  runUp: number
}

/** Of what a motoring machine takes up, this share is lost on the way to the shaft (common practice, no source). */
const MOTORING_LOSS = 0.08
/** Share of synchronous speed per second below which a run-up is none, and how fast the opening then grows [1/s]. */
const LEAST_ACCELERATION = 0.02
const RUN_UP_RATE = 0.01

/** Induction or synchronous machine on a grid that holds its speed. */
export function createGridSide(
  design: GridDesign,
  { random, rotationLosses }: { random: (() => number) | undefined; rotationLosses: boolean },
): ElectricalSide {
  const { losses } = design
  const { synchronousSpeed } = design.machine
  const machine =
    design.machine.kind === 'induction'
      ? createInductionMachine(design.machine)
      : createSynchronousOnGrid(design.machine)
  const lossOverInput = lossCurves(losses).overInput
  const noLoadLoss = rotationLosses ? losses.noLoadLoss : 0
  const relay = createTripSwitch(design.relayDelay)
  const frequencyWander = createWander(random, { sigma: 4e-4 * design.frequency, timeConstant: 30 })
  const voltageWander = createWander(random, { sigma: 6.5e-3 * design.voltage, timeConstant: 60 })
  let isPresent = true
  let isConnected = true
  let runUp = design.runUp
  let lastSpeed = 0
  let gap = 0
  let output = design.ratedPower
  let energy = 0

  const frequency = () => design.frequency + frequencyWander.value()

  /** The data sheet's losses are those of all its input, rotation losses included. */
  function powerOf(gapPower: number): number {
    if (!isConnected) return 0
    const input = gapPower + noLoadLoss
    if (input >= 0) return input - lossOverInput(input)
    return input - losses.noLoadLoss - MOTORING_LOSS * Math.abs(input)
  }

  function stepSwitches(dt: number, { speed, isStopped }: { speed: number; isStopped: boolean }): void {
    relay.step(dt, !isPresent || machine.isLost())
    if (!isPresent || relay.isTripped() || isStopped) isConnected = false
    else if (machine.mayConnect(speed)) isConnected = true
  }

  /** Where the opening is not enough to speed the machine up, more is given, slowly. */
  function stepRunUp(dt: number, speed: number): void {
    if (isConnected) runUp = design.runUp
    else if (isPresent && speed - lastSpeed < LEAST_ACCELERATION * synchronousSpeed * dt)
      runUp = Math.min(1, runUp + RUN_UP_RATE * dt)
    lastSpeed = speed
  }

  return {
    settings: { grid: true },
    torque: machine.torque,
    power: () => output,
    loadLoss: () => gap - output,
    trips: () => [relay.isTripped()],
    wantsStop: () => relay.isTripped(),
    mostOpening() {
      if (isConnected) return 1
      return machine.isTooFast(lastSpeed) ? 0 : runUp
    },
    reset(settings) {
      if (settings['grid'] === true) relay.reset()
    },
    step(dt, { settings, speed, isStopped }) {
      frequencyWander.step(dt)
      voltageWander.step(dt)
      isPresent = settings['grid'] === true
      stepSwitches(dt, { speed, isStopped })
      stepRunUp(dt, speed)
      machine.step(dt, speed, {
        isConnected,
        frequencyShare: frequency() / design.frequency,
        voltage: design.voltage + voltageWander.value(),
      })
      gap = machine.torque(speed) * speed
      output = powerOf(gap)
      energy += Math.max(0, output) * dt
    },
    truth() {
      const reactive = isConnected ? machine.reactive(output) : 0
      const apparent = Math.hypot(output, reactive)
      const voltage = isPresent ? design.voltage + voltageWander.value() : 0
      return {
        activePower: output,
        reactivePower: reactive,
        powerFactor: apparent > 0 ? Math.abs(output) / apparent : 1,
        frequency: isPresent ? frequency() : 0,
        gridConnected: Number(isConnected),
        breakerClosed: Number(isConnected),
        energyMeter: energy,
        ...onThreePhases(voltage, voltage > 0 ? apparent / (3 * voltage) : 0),
      }
    },
    book: () => ({ supplied: gap, used: output, lost: { generator: gap - output }, stored: 0 }),
  }
}
