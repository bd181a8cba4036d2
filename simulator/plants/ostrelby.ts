import { efficiencies } from './efficiencies.ts'
import { changeSetting, joinBooks, type ModelOptions, type PlantModel, type Setting } from './model.ts'
import { DEFLECTOR, RATED_SPEED, UNDER_FREQUENCY, WATER_TEMPERATURE } from './ostrelbyDesign.ts'
import { createBeckMachine } from './ostrelbyMachine.ts'
import { createBeckWater } from './ostrelbyWater.ts'
import { createTripSwitch, createWander } from './parts.ts'
import { createVillageGrid } from './villageGrid.ts'

const INITIAL = {
  'spear-1': 1,
  'spear-2': 1,
  demand: 7000,
  mill: false,
  village: true,
  battery: true,
  dump: true,
  stream: 0.062,
  blockage: 0,
  protection: true,
  reset: false,
}

/** Off-grid Turgo plant: the dump load holds the frequency, a battery helps in the evening. */
export function createOstrelby({ random, rotationLosses = true }: ModelOptions = {}): PlantModel {
  const settings = { ...INITIAL }
  const water = createBeckWater(random)
  const grid = createVillageGrid()
  const machine = createBeckMachine({ rotationLosses, load: grid.load })
  const overSpeed = createTripSwitch(DEFLECTOR.delay)
  const underFrequency = createTripSwitch(UNDER_FREQUENCY.delay)
  const habits = createWander(random, { sigma: 0.04, timeConstant: 20 })
  let isVillageConnected = true

  function stepSwitches(dt: number): void {
    const frequency = machine.frequency()
    overSpeed.step(dt, settings.protection && machine.speed() >= DEFLECTOR.level * RATED_SPEED)
    underFrequency.step(dt, isVillageConnected && settings.village && frequency < UNDER_FREQUENCY.level)
    if (underFrequency.isTripped() || !settings.village || frequency < 40) isVillageConnected = false
    else if (frequency > UNDER_FREQUENCY.reconnect) isVillageConnected = true
  }

  function stepWater(dt: number): void {
    water.step(dt, {
      spears: [settings['spear-1'], settings['spear-2']],
      isTripped: overSpeed.isTripped(),
      stream: settings.stream,
      blocked: settings.blockage,
    })
  }

  function stepGrid(dt: number): void {
    grid.step(dt, {
      frequency: machine.frequency(),
      voltage: machine.voltage(),
      demand: isVillageConnected ? settings.demand * (1 + habits.value()) : 0,
      isMillOn: isVillageConnected && settings.mill,
      isBatteryOn: settings.battery,
      isDumpInOrder: settings.dump,
    })
  }

  function resetWhereAsked(): void {
    if (!settings.reset) return
    overSpeed.reset()
    underFrequency.reset()
    settings.reset = false
  }

  return {
    settings,
    command: (id: string, value: Setting) => changeSetting(settings, id, value),
    speed: () => machine.speed(),
    step(dt) {
      resetWhereAsked()
      habits.step(dt)
      stepSwitches(dt)
      stepWater(dt)
      machine.step(dt, water.jet())
      stepGrid(dt)
    },
    truth() {
      const shaft = machine.shaftPower()
      return {
        ...water.truth(),
        ...machine.truth(),
        ...grid.truth(),
        ...efficiencies({
          hydraulic: water.hydraulicPower(),
          turbine: shaft,
          shaft,
          active: machine.power(),
        }),
        waterTemperature: WATER_TEMPERATURE,
        'loadOn.1': Number(isVillageConnected),
        'loadOn.2': Number(isVillageConnected && settings.mill),
        'tripped.1': Number(overSpeed.isTripped()),
        'tripped.2': Number(underFrequency.isTripped()),
      }
    },
    book: () => joinBooks([water.book(), machine.book(water.hydraulicPower()), grid.book()]),
  }
}
