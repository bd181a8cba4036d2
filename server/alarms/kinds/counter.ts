import { counterKinds } from '../../derive/counterKinds.ts'
import { createCalendar } from '../../derive/counting/calendar.ts'
import type { CounterKind } from '../../derive/counting/kind.ts'
import { readMeasure } from '../../plant/measures.ts'
import { fromSi, type Unit, unitOf } from '../../wire/units.ts'
import { type AlarmKind, AmountFault, type FieldReader, type WatcherInputs } from './kind.ts'

/** Time [ms] after the plant's midnight within which a day still counts as counted from its beginning. */
const PUNCTUAL_MS = 5000
/** Gaps [s] of a day that do not matter to a daily limit. */
const NEGLIGIBLE_GAP_S = 60

/**
 * What a counter has come to today, against a limit such as the daily volume of the water licence; with `ahead`
 * it raises that long before the limit would be reached at the present rate. It is gone at the plant's midnight.
 */
export const counter: AlarmKind = {
  id: 'counter',
  hasAmount: false,
  isForSafety: false,
  needs: ['counter', 'limit'],
  may: ['ahead', 'figure'],
  read(fields) {
    const { file, plant } = fields
    const kind = counterKinds.find((one) => one.id === file.counter)
    if (!kind) throw new AmountFault('counter', `a counter: ${counterKinds.map((one) => one.id).join(', ')}`)
    const { limit, unit } = readTotal(fields, unitOf(kind.unit))
    const clock = new Intl.DateTimeFormat('en-GB', {
      hour: '2-digit',
      minute: '2-digit',
      timeZone: plant.site.timeZone,
    })
    return {
      condition: `${kind.name.toLowerCase()} today at or above ${file.limit}`,
      figure: kind.figures[0]!,
      uses: [],
      open(inputs) {
        const totalAt = dayTotal(kind, plant.site.timeZone, inputs)
        let said: string | undefined
        return {
          judge({ now }) {
            const total = totalAt(now)
            if (!total) return { holds: undefined, value: Number.NaN, at: now, quality: 'bad' }
            const reachedAt = reached(total, limit, now)
            said = sentence(
              { total, limit, unit },
              reachedAt === undefined ? undefined : clock.format(reachedAt),
            )
            const isNear =
              file.ahead !== undefined && reachedAt !== undefined && reachedAt - now <= file.ahead
            const quality = total.complete ? 'good' : 'uncertain'
            return { holds: total.value >= limit || isNear, value: Number.NaN, at: now, quality }
          },
          detail: () => said,
        }
      },
    }
  },
}

/** What a counter has come to since the plant's day began. */
interface DayTotal {
  /** SI. */
  value: number
  /** SI per second at this moment; NaN when unknown. */
  rate: number
  /** When it begins again at zero [ms UTC]. */
  resetsAt: number
  /** False when a part of the day was not counted: the true total is larger. */
  complete: boolean
}

function dayTotal(
  { id, counting, figures: [figure] }: CounterKind,
  timeZone: string,
  { counters, figures }: WatcherInputs,
): (now: number) => DayTotal | undefined {
  const calendar = createCalendar(timeZone)
  return (now) => {
    const today = counters.views().find((one) => one.id === id)?.today
    if (!today) return undefined
    const { start, end } = calendar.dayOf(now)
    const complete = today.from - start < PUNCTUAL_MS && today.gapSeconds < NEGLIGIBLE_GAP_S
    const rate = counting.by === 'integral' ? figures.value(figure) : Number.NaN
    return { value: today.value, rate, resetsAt: end, complete }
  }
}

/** When the limit is reached at this rate, if that is before the counter begins anew. */
function reached({ value, rate, resetsAt }: DayTotal, limit: number, now: number): number | undefined {
  if (value >= limit || !(rate > 0)) return undefined
  const at = now + ((limit - value) / rate) * 1000
  return at < resetsAt ? at : undefined
}

function sentence(
  { total, limit, unit }: { total: DayTotal; limit: number; unit: Unit },
  reachedAt: string | undefined,
): string {
  const amount = (si: number) => Math.round(fromSi(si, unit)).toLocaleString('en-GB').replaceAll(',', ' ')
  const so = `${total.complete ? '' : 'at least '}${amount(total.value)} of ${amount(limit)} ${unit.print} today`
  if (total.value >= limit) return `${so}: reached`
  return reachedAt === undefined ? so : `${so}; at this rate reached at ${reachedAt}`
}

/** "3900 m3", or "90 % of licence.dailyVolume". */
function readTotal({ file, plant }: FieldReader, like: Unit): { limit: number; unit: Unit } {
  const share = /^(.+?)\s+of\s+(\w+\.\w+)$/.exec(file.limit!.trim())
  if (!share) {
    const amount = readMeasure(file.limit!, like)
    if ('expected' in amount) throw new AmountFault('limit', amount.expected)
    return { limit: amount.si, unit: amount.unit }
  }
  const whole = plant.constants.get(share[2]!)
  const part = readMeasure(share[1]!, unitOf('1'))
  if (whole === undefined || 'expected' in part)
    throw new AmountFault('limit', 'an amount with a unit, or a share such as "90 % of licence.dailyVolume"')
  return { limit: part.si * whole, unit: like }
}
