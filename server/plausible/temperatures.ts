import { alarmKinds } from '../alarms/kinds/index.ts'
import { ownFigures } from '../derive/ownFigures.ts'
import { planFigures } from '../derive/plan.ts'
import { readMeasure } from '../plant/measures.ts'
import type { Plant } from '../plant/plant.ts'
import { type FigureDescription, isTemperatureDifference } from '../wire/figure.ts'
import { plain } from '../wire/numbers.ts'
import { fromSi, unitOf } from '../wire/units.ts'
import type { Check, Doubt } from './doubt.ts'

/** −73 °C: no machine is that cold, so a temperature in K below it was meant in °C. */
const COLDEST = 200
const AMOUNT_IN_CELSIUS = /^\s*(\S+?)\s*(?:Cel|°C|degC)\s*$/

/** Own figures in K that are read in another unit than is written, since their formula says what they are. */
export const checkOwnTemperatures: Check = ({ plant }) =>
  ownFigures(plant).quantities.flatMap(({ id, view }) => {
    const i = plant.figures.findIndex((one) => one.id === id)
    const file = plant.figures[i]!
    const written = file.view ?? file.unit
    if (view === written || !['K', 'Cel'].includes(written)) return []
    const what = view === 'K' ? 'a difference of temperatures' : 'a temperature'
    return [
      {
        path: `figures[${i}].${file.view === undefined ? 'unit' : 'view'}`,
        received: `"${written}"`,
        expected: `"${view}": its formula is ${what}, so it is read in ${view}`,
      },
    ]
  })

/** Limits of alarms: degrees on a rise of temperature, K on a temperature, and what no reading can reach. */
export const checkLimits: Check = ({ plant }) => {
  if (plant.alarms.length === 0) return []
  const figures = new Map(planFigures(plant).nodes.map(({ description }) => [description.id, description]))
  return plant.alarms.flatMap((alarm, i) => {
    const [figure, text] = [figures.get(alarm.figure ?? ''), alarm.limit]
    if (!figure || text === undefined || !hasLevel(alarm.kind)) return []
    const limit = { figure, path: `alarms[${i}].limit`, text }
    const doubts = celsiusDoubts(limit)
    return doubts.length > 0 ? doubts : reachDoubts(limit, plant)
  })
}

function hasLevel(kind: string): boolean {
  return alarmKinds.some((one) => one.id === kind && one.hasLevel)
}

interface Limit {
  figure: FigureDescription
  path: string
  text: string
}

function celsiusDoubts({ figure, path, text }: Limit): Doubt[] {
  const received = `"${text}"`
  const degrees = AMOUNT_IN_CELSIUS.exec(text)?.[1]
  if (isTemperatureDifference(figure) && degrees !== undefined)
    return [
      {
        path,
        received,
        expected: `"${degrees} K": ${figure.name} is a difference of temperatures, and this is taken as a rise of ${degrees} K`,
      },
    ]
  if (figure.unit !== 'K' || isTemperatureDifference(figure)) return []
  const amount = readMeasure(text, unitOf('K'))
  if (!('si' in amount) || amount.si >= COLDEST) return []
  return [
    {
      path,
      received,
      expected: `a temperature such as "${plain(amount.si, 3)} Cel": ${text} is ${plain(amount.si - 273.15, 4)} °C`,
    },
  ]
}

/** Beyond its range a reading is bad, so that no limit there is ever passed. */
function reachDoubts({ figure, path, text }: Limit, plant: Plant): Doubt[] {
  const { low, high } = figure
  const amount = readMeasure(text, unitOf(figure.unit))
  if (!('si' in amount) || low === undefined || high === undefined) return []
  if (amount.si >= low && amount.si <= high) return []
  const unit = plant.instruments.find((one) => one.quantity === figure.id)?.unit ?? unitOf(figure.unit)
  const [from, to] = [low, high].map((end) => plain(fromSi(end, unit), 4))
  return [
    {
      path,
      received: `"${text}"`,
      expected: `a limit in the range of its instrument, ${from} to ${to} ${unit.code}: what lies beyond is a bad reading, and never passes it`,
    },
  ]
}
