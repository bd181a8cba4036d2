import { printFault } from '../server/plant/load.ts'
import type { Plant } from '../server/plant/plant.ts'
import { designOf } from './design/design.ts'
import type { EnergyBook, ModelOptions, Setting } from './plants/model.ts'
import { createPlant } from './plants/plant.ts'
import { createControlDesk } from './publish/controlDesk.ts'
import type { OutMessage } from './publish/encode.ts'
import { createSchedule } from './publish/schedule.ts'
import { createRandom } from './random.ts'
import { createSensor } from './sensors/sensor.ts'
import { readSite, siteFile } from './siteFile.ts'

/** Step of the models [s]; the fastest thing in them is a 20 ms regulator. */
export const STEP = 0.002

/** One simulated plant in this process: physics, instruments and settings, without any I/O of its own. */
export interface Site {
  readonly plant: Plant
  /** Plant time goes on by `dt` [s], in steps of 2 ms; what is left of a step is kept for the next call. */
  step(dt: number): void
  /** True values by quantity id [SI]; no instrument error in them. NaN where a ratio has no denominator. */
  truth(): ReadonlyMap<string, number>
  /** Where the power goes at this instant. */
  book(): EnergyBook
  /**
   * Changes a control: a number in the control's unit, a boolean or the id of a choice. Control "fault" takes
   * "instrument:kind" or "none", control "scenario" the name of a scenario or "none".
   *
   * @returns The sentence that says why nothing was changed, or undefined.
   */
  command(control: string, value: Setting): string | undefined
  /** The same from a command topic and its payload. */
  receive(topic: string, payload: string): string | undefined
  /** Messages that are due at `now` [ms UTC]. */
  messages(now: number): OutMessage[]
  /** Everything is sent with the next `messages`: slow instruments, contacts and settings included. */
  resend(): void
}

export interface SiteOptions extends Pick<ModelOptions, 'rotationLosses'> {
  /** Number of the run; the same gives the same noise and instrument errors. */
  seed?: number
  /** Perfect instruments and a quiet plant. */
  ideal?: boolean
  /** Plant file already read; default the bundled file. */
  plant?: Plant
}

/** @throws {RangeError} where there is no such plant or it cannot be played: a programming error, `readSite` tells before. */
export function createSite(plantId: string, options: SiteOptions = {}): Site {
  const { seed = 1, ideal = false, plant = bundledPlant(plantId), rotationLosses = true } = options
  const built = designOf(plant)
  if ('faults' in built)
    throw new RangeError(`createSite: ${built.faults.map((one) => printFault(plantId, one)).join('; ')}`)
  const random = ideal ? {} : { random: createRandom(seed, plantId) }
  const model = createPlant(built.design, { rotationLosses, ...random })
  const sensors = plant.instruments.map((one) => createSensor(one, { seed, plant: plantId, ideal }))
  const schedule = createSchedule(sensors)
  const desk = createControlDesk(plant, model, sensors)
  let left = 0
  let peak = model.speed()

  function truthOf(values: Record<string, number>, quantity: string) {
    const value = values[quantity]
    if (value === undefined) throw new RangeError(`${plantId}: the model has no quantity "${quantity}"`)
    if (quantity !== 'speed') return { value }
    const held = Math.max(peak, value)
    peak = value
    return { value, peak: held }
  }

  return {
    plant,
    step(dt) {
      left += dt
      for (; left >= STEP * (1 - 1e-9); left -= STEP) {
        desk.step(STEP)
        model.step(STEP)
        peak = Math.max(peak, model.speed())
      }
    },
    truth: () => new Map(Object.entries(model.truth())),
    book: () => model.book(),
    command: desk.command,
    receive: desk.receive,
    messages(now) {
      const values = model.truth()
      const due = [...schedule.due(now, (quantity) => truthOf(values, quantity)), ...desk.changedStates()]
      // Retained ones last: aedes 1.2 stores them first, and a subscriber to whom a later packet came in the
      // meantime takes them for duplicates.
      return [...due.filter(({ retain }) => !retain), ...due.filter(({ retain }) => retain)]
    },
    resend() {
      desk.forgetStates()
      schedule.startOver()
    },
  }
}

function bundledPlant(plantId: string): Plant {
  const site = readSite(siteFile(plantId))
  if ('faults' in site) throw new RangeError(`createSite: ${site.faults.join('; ')}`)
  return site.plant
}
