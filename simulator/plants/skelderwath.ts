import { efficiencies } from './efficiencies.ts'
import {
  changeSetting,
  joinBooks,
  type ModelOptions,
  onThreePhases,
  type PlantModel,
  type Setting,
} from './model.ts'
import { createTripSwitch, createWander } from './parts.ts'
import {
  BELT,
  GENERATOR,
  GRID_VOLTAGE,
  RELAY_DELAY,
  START,
  VANE_RATE,
  WATER_TEMPERATURE,
} from './skelderwathDesign.ts'
import { createMillMachine } from './skelderwathMachine.ts'
import { createMillWater } from './skelderwathWater.ts'

const INITIAL = {
  'vane-1': 1,
  'vane-2': 1,
  grid: true,
  river: 0.8,
  blockage: 0,
  protection: true,
  reset: false,
}

/** Crossflow turbine with a belt to an induction generator on the public grid. */
export function createSkelderwath({ random, rotationLosses = true }: ModelOptions = {}): PlantModel {
  const settings = { ...INITIAL }
  const water = createMillWater(random)
  const machine = createMillMachine({ rotationLosses })
  const relay = createTripSwitch(RELAY_DELAY)
  const frequencyWander = createWander(random, { sigma: 0.02, timeConstant: 30 })
  const voltageWander = createWander(random, { sigma: 1.5, timeConstant: 60 })
  let isConnected = true

  const frequency = () => 50 + frequencyWander.value()

  function stepSwitches(dt: number): void {
    if (settings.reset && settings.grid) relay.reset()
    settings.reset = false
    relay.step(dt, !settings.grid)
    if (!settings.grid || relay.isTripped()) isConnected = false
    else if (machine.speed() >= START.connectAt * GENERATOR.synchronousSpeed) isConnected = true
  }

  /** Falling after a trip; as set on the grid; hardly open while the machine is run up. */
  function vaneOrders(): { vanes: readonly [number, number]; vaneRate: number } {
    const set = [settings['vane-1'], settings['vane-2']] as const
    if (relay.isTripped() && settings.protection) return { vanes: [0, 0], vaneRate: VANE_RATE.falling }
    if (isConnected || !settings.protection) return { vanes: set, vaneRate: VANE_RATE.driven }
    const runUp = (one: number) => Math.min(one, START.opening)
    return { vanes: [runUp(set[0]), runUp(set[1])], vaneRate: VANE_RATE.driven }
  }

  function terminalTruth(): Record<string, number> {
    const power = machine.power()
    const drawn = machine.reactiveDemand()
    const apparent = Math.hypot(power, drawn)
    const voltage = settings.grid ? GRID_VOLTAGE + voltageWander.value() : 0
    const current = voltage > 0 ? apparent / (3 * voltage) : 0
    return {
      reactivePower: drawn === 0 ? 0 : -drawn,
      powerFactor: apparent > 0 ? Math.abs(power) / apparent : 1,
      frequency: settings.grid ? frequency() : 0,
      gridConnected: Number(isConnected),
      ...onThreePhases(voltage, current),
    }
  }

  return {
    settings,
    command: (id: string, value: Setting) => changeSetting(settings, id, value),
    speed: () => machine.speed(),
    step(dt) {
      frequencyWander.step(dt)
      voltageWander.step(dt)
      stepSwitches(dt)
      water.step(dt, { ...vaneOrders(), river: settings.river, blocked: settings.blockage })
      machine.step(dt, water.jet(), { isConnected, frequency: frequency() })
    },
    truth() {
      const turbine = machine.turbinePower()
      const shaft = turbine * BELT.efficiency
      return {
        ...water.truth(),
        ...machine.truth(),
        ...terminalTruth(),
        ...efficiencies({ hydraulic: water.hydraulicPower(), turbine, shaft, active: machine.power() }),
        waterTemperature: WATER_TEMPERATURE,
        'tripped.1': Number(relay.isTripped()),
      }
    },
    book: () => joinBooks([water.book(), machine.book(water.hydraulicPower())]),
  }
}
