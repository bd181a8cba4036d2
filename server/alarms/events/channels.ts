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
