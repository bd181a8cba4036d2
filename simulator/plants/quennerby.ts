import { efficiencies } from './efficiencies.ts'
import { interpolate } from './interpolate.ts'
import {
  changeSetting,
  type EnergyBook,
  joinBooks,
  type ModelOptions,
  type PlantModel,
  type Setting,
} from './model.ts'
import { createThermalNode, createTripSwitch } from './parts.ts'
import type { DriveOrder } from './pump.ts'
import { createRigBus } from './quennerbyBus.ts'
import {
  BRAKE,
  JET_EFFICIENCY,
  RATED_HEAD,
  RATED_SPEED,
  ROOM_TEMPERATURE,
  SUMP,
  WATER_DENSITY,
} from './quennerbyDesign.ts'
import { createRigMachine } from './quennerbyMachine.ts'
import { createRigWater } from './quennerbyWater.ts'

const INITIAL = {
  'jet-1': true,
  'jet-2': true,
  'jet-3': true,
  'jet-4': true,
  'drive-mode': 'holdHead' as string,
  head: RATED_HEAD,
  throttle: 1,
  'drive-speed': 1,
  lamps: 3,
  heater: true,
  motor: false,
  'speed-set': RATED_SPEED,
  charger: true,
  dump: true,
  flywheel: false,
  protection: true,
  reset: false,
  'emergency-stop': false,
  guard: false,
  blockage: 0,
}

/** [J/(kg·K)], water (from memory) */
const SPECIFIC_HEAT = 4186

/** Four-jet teaching rig with a permanent magnet generator on a battery bus. */
export function createQuennerby({ random, rotationLosses = true }: ModelOptions = {}): PlantModel {
  const settings = { ...INITIAL }
  const water = createRigWater(random)
  const machine = createRigMachine({ rotationLosses })
  const bus = createRigBus()
  const brake = createTripSwitch(BRAKE.delay)
  const loop = createThermalNode(
    { capacity: SUMP.volume * WATER_DENSITY * SPECIFIC_HEAT, resistance: SUMP.heatLoss },
    ROOM_TEMPERATURE,
  )

  /** Brake, emergency stop and guard all stop the pump and short the generator into the brake resistors. */
  const isStopped = () => brake.isTripped() || settings['emergency-stop'] || settings.guard

  function driveOrder(): DriveOrder {
    if (isStopped()) return { kind: 'stop' }
    if (settings['drive-mode'] === 'fixedSpeed') return { kind: 'fixedSpeed', speed: settings['drive-speed'] }
    return { kind: 'holdHead', setPoint: settings.head, head: water.netHead() }
  }

  function stepWater(dt: number): void {
    const jets = [settings['jet-1'], settings['jet-2'], settings['jet-3'], settings['jet-4']]
    water.step(dt, {
      jets: jets.map(Number),
      drive: driveOrder(),
      blocked: settings.blockage,
      throttle: settings.throttle,
    })
    loop.step(dt, water.heat(), ROOM_TEMPERATURE)
  }

  function stepMachine(dt: number): void {
    brake.step(dt, settings.protection && machine.speed() >= BRAKE.level * RATED_SPEED)
    machine.step(dt, {
      jet: {
        hydraulicPower: water.hydraulicPower(),
        netHead: water.netHead(),
        efficiency: interpolate(JET_EFFICIENCY, water.jets()),
      },
      hasFlywheel: settings.flywheel,
      isBraked: isStopped(),
      isChargerOn: settings.charger,
      setPoint: settings['speed-set'],
      batteryVoltage: bus.voltage(),
    })
  }

  function stepBus(dt: number): void {
    bus.step(dt, {
      charge: machine.charge(),
      isDumpInOrder: settings.dump,
      lamps: Math.round(settings.lamps),
      heater: settings.heater,
      motor: settings.motor,
    })
  }

  return {
    settings,
    command: (id: string, value: Setting) => changeSetting(settings, id, value),
    speed: () => machine.speed(),
    step(dt) {
      if (settings.reset) brake.reset()
      settings.reset = false
      stepWater(dt)
      stepMachine(dt)
      stepBus(dt)
    },
    truth() {
      const turning = machine.truth()
      const shaft = turning['shaftPower']!
      const active = turning['activePower']!
      return {
        ...water.truth(),
        ...turning,
        ...bus.truth(),
        ...efficiencies({ hydraulic: water.hydraulicPower(), turbine: shaft, shaft, active }),
        waterTemperature: loop.temperature(),
        'tripped.1': Number(brake.isTripped()),
        emergencyStop: Number(settings['emergency-stop']),
        guardOpen: Number(settings.guard),
      }
    },
    book: (): EnergyBook => joinBooks([water.book(), machine.book(), bus.book()]),
  }
}
