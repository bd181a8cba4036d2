import { counterKinds } from '../../derive/counterKinds.ts'
import { readMeasure } from '../../plant/measures.ts'
import { fromSi, type Unit, unitOf } from '../../wire/units.ts'
import type { CounterTotal } from '../inputs.ts'
import { type AlarmKind, AmountFault, type FieldReader } from './kind.ts'

/**
 * What a counter has come to today, against a limit such as the daily volume of the water licence; with `ahead`
 * it raises that long before the limit would be reached at the present rate. It is gone at the plant's midnight.
 */
export const counter: AlarmKind = {
  id: 'counter',
  hasAmount: false,
  lossOf: null,
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
      open({ counters }) {
        let said: string | undefined
        return {
          judge({ now }) {
            const total = counters.total(kind.id)
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

/** When the limit is reached at this rate, if that is before the counter begins anew. */
function reached({ value, rate, resetsAt }: CounterTotal, limit: number, now: number): number | undefined {
  if (value >= limit || !(rate > 0)) return undefined
  const at = now + ((limit - value) / rate) * 1000
  return at < resetsAt ? at : undefined
}

function sentence(
  { total, limit, unit }: { total: CounterTotal; limit: number; unit: Unit },
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
