import { counterKinds } from '../../derive/counterKinds.ts'
import { createCalendar } from '../../derive/counting/calendar.ts'
import { readMeasure } from '../../plant/measures.ts'
import { fromSi, unitOf } from '../../wire/units.ts'
import { type AlarmKind, AmountFault, type FieldReader, type WatcherInputs } from './kind.ts'

/**
 * Work that is due when a counter has come to its limit since counting began, or on a date, whichever is first. Whoever has
 * done it writes the next limit or date into the plant file.
 */
export const service: AlarmKind = {
  id: 'service',
  hasAmount: false,
  isForSafety: false,
  needs: [],
  may: ['counter', 'limit', 'due'],
  read(fields) {
    const { file, plant } = fields
    const { due } = file
    const total = readTotal(fields)
    if (!total && due === undefined)
      throw new AmountFault('due', 'a date such as "2027-03-01", or "counter" and "limit", or both')
    const calendar = createCalendar(plant.site.timeZone)
    const conditions = [
      ...(total ? [`${total.name.toLowerCase()} since counting began at or above ${file.limit}`] : []),
      ...(due === undefined ? [] : [`from ${due} on`]),
    ]
    return {
      condition: conditions.join(', or '),
      ...(total ? { figure: total.figure } : {}),
      uses: [],
      open({ counters }) {
        let said: string | undefined
        return {
          judge({ now }) {
            const view = total && viewOf(counters, total.id)
            const isOver = due !== undefined && calendar.dayOf(now).date >= due
            const reached = view && view.value >= total.limit
            said = total && view ? total.sentence(view.value) : undefined
            const isKnown = total === undefined || view !== undefined
            return {
              holds: isOver || reached || (isKnown ? false : undefined),
              value: Number.NaN,
              at: now,
              quality: isKnown || isOver ? 'good' : 'bad',
            }
          },
          detail: () => said,
        }
      },
    }
  },
}

function viewOf(counters: WatcherInputs['counters'], id: string): { value: number } | undefined {
  return counters.views().find((one) => one.id === id)
}

/** @throws {AmountFault} */
function readTotal({ file }: FieldReader) {
  if (file.counter === undefined && file.limit === undefined) return undefined
  const kind = counterKinds.find((one) => one.id === file.counter)
  if (!kind) throw new AmountFault('counter', `a counter: ${counterKinds.map((one) => one.id).join(', ')}`)
  if (file.limit === undefined)
    throw new AmountFault('limit', 'the total at which the work is due, such as "2000 h"')
  const amount = readMeasure(file.limit, unitOf(kind.unit))
  if ('expected' in amount) throw new AmountFault('limit', amount.expected)
  const { si: limit, unit } = amount
  const words = (si: number) => Math.floor(fromSi(si, unit)).toLocaleString('en-GB').replaceAll(',', ' ')
  return {
    id: kind.id,
    name: kind.name,
    figure: kind.figures[0]!,
    limit,
    sentence: (value: number) => `${words(value)} of ${words(limit)} ${unit.print}`.trimEnd(),
  }
}
