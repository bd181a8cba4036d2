import type { Instrument, Plant } from '../../plant/plant.ts'
import type { FigureDescription } from '../../wire/figure.ts'

/** Instruments whose samples explain an over-speed or a trip. */
const AMOUNTS = [
  'speed',
  'turbineSpeed',
  'frequency',
  'activePower',
  'phaseVoltage',
  'dcVoltage',
  'inletPressure',
  'dumpPower',
  'loadPower',
]

/** Samples kept of one instrument: ten seconds at 200 a second; states change seldom. */
export const AMOUNT_CAPACITY = 2000
export const STATE_CAPACITY = 256
/** Samples of one instrument in one record; what comes beyond is counted. */
export const MOST_SAMPLES = 8192

export interface TracedChannel {
  quantity: string
  name: string
  unit: string
  viewUnit: string
  discrete: boolean
}

/** At most the instruments of the plant: (32 kB an amount + 4 kB a state) of memory each. */
export function tracedChannels(plant: Plant, figures: readonly FigureDescription[]): TracedChannel[] {
  return plant.instruments.filter(isTraced).map(({ quantity, name, role, siUnit }) => {
    const figure = figures.find((one) => one.id === quantity)
    return {
      quantity,
      name: figure?.name ?? name,
      unit: siUnit.code,
      viewUnit: figure?.viewUnit ?? siUnit.code,
      discrete: role?.discrete === true,
    }
  })
}

function isTraced({ quantity, role }: Instrument): boolean {
  return role?.discrete === true || AMOUNTS.includes(quantity.split('.')[0]!)
}

/** The newest samples of one instrument, in two columns of fixed length: nothing grows, nothing is allocated. */
export interface TraceRing {
  add(at: number, value: number): void
  /** Samples from `from` on, oldest first; with `withState` also the last one before, moved to `from`. */
  since(from: number, withState: boolean): { at: number[]; value: number[] }
}

export function createTraceRing(capacity: number): TraceRing {
  const at = new Float64Array(capacity)
  const value = new Float64Array(capacity)
  let written = 0
  return {
    add(time, sample) {
      at[written % capacity] = time
      value[written % capacity] = sample
      written++
    },
    since(from, withState) {
      const found = { at: [] as number[], value: [] as number[] }
      let before: number | undefined
      for (let i = Math.max(0, written - capacity); i < written; i++) {
        const place = i % capacity
        if (at[place]! < from) before = value[place]!
        else {
          found.at.push(at[place]!)
          found.value.push(value[place]!)
        }
      }
      if (withState && before !== undefined) {
        found.at.unshift(from)
        found.value.unshift(before)
      }
      return found
    },
  }
}
