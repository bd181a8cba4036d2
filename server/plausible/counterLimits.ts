import { counter } from '../alarms/kinds/counter.ts'
import { service } from '../alarms/kinds/service.ts'
import { counterKinds } from '../derive/counterKinds.ts'
import { readMeasure } from '../plant/measures.ts'
import { unitOf } from '../wire/units.ts'
import { type Check, type Facts, NO_DOUBT } from './doubt.ts'

/** The longest day of a year, where clocks are put back [s]. */
const LONGEST_DAY = 25 * 3600
/** More than this many times what the plant can do at its ratings is not meant. */
const ROOM = 1.5

/** A counter alarm looks at today: what no day can bring never raises it. */
export const checkNeverRising: Check = (facts) =>
  facts.plant.alarms.flatMap((alarm, i) => {
    const kind = counterKinds.find((one) => one.id === alarm.counter)
    if (alarm.kind !== counter.id || !kind || alarm.limit === undefined) return NO_DOUBT
    const limit = readMeasure(alarm.limit, unitOf(kind.unit))
    const most = mostOfADay(kind.unit, facts)
    if ('expected' in limit || most === undefined || limit.si <= most.value) return NO_DOUBT
    return [
      {
        path: `alarms[${i}].limit`,
        received: `"${alarm.limit}"`,
        expected: `what a day can bring: this alarm looks at ${kind.name.toLowerCase()} of today, which ${most.why}, so it never rises (for a total since counting began there is the kind ${service.id})`,
      },
    ]
  })

function mostOfADay(unit: string, { of }: Facts): { value: number; why: string } | undefined {
  const byRating = (path: string) => {
    const value = ROOM * of(path) * LONGEST_DAY
    return value > 0 ? { value, why: `comes to no more than that at ${path} all day` } : undefined
  }
  if (unit === 's') return { value: LONGEST_DAY, why: 'has 24 h' }
  if (unit === 'J') return byRating('generator.ratedPower')
  return unit === 'm3' ? byRating('turbine.ratedDischarge') : undefined
}
