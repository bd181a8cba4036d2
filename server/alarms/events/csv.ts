import type { EventRecord } from '../../wire/event.ts'
import { fromSi, unitOf } from '../../wire/units.ts'

/** One line per sample, since every instrument has its own rhythm; times in UTC, values in the unit of the column. */
export function eventCsv({ at, channels }: EventRecord): string {
  const lines = channels.flatMap(({ quantity, viewUnit, at: times, value }) => {
    const unit = unitOf(viewUnit)
    return times.map((time, i) => {
      const fields = [
        new Date(at + time).toISOString(),
        (time / 1000).toFixed(4),
        quantity,
        Number(fromSi(value[i]!, unit).toPrecision(7)),
        viewUnit,
      ]
      return { time, line: fields.join(',') }
    })
  })
  lines.sort((a, b) => a.time - b.time)
  return `${['at,seconds_from_alarm,quantity,value,unit', ...lines.map((one) => one.line)].join('\r\n')}\r\n`
}
