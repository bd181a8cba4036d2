import { csvTable, utc } from '../../csv.ts'
import type { EventRecord } from '../../wire/event.ts'
import { fromSi, unitOf } from '../../wire/units.ts'

/** One line per sample, since every instrument has its own rhythm; times in UTC, values in the unit of the column. */
export function eventCsv({ at, channels }: EventRecord): string {
  const samples = channels.flatMap(({ quantity, viewUnit, at: times, value }) => {
    const unit = unitOf(viewUnit)
    return times.map((time, i) => ({
      time,
      quantity,
      viewUnit,
      value: Number(fromSi(value[i]!, unit).toPrecision(7)),
    }))
  })
  samples.sort((a, b) => a.time - b.time)
  return csvTable(samples, {
    at: ({ time }) => utc(at + time),
    seconds_from_alarm: ({ time }) => Number((time / 1000).toFixed(4)),
    quantity: (sample) => sample.quantity,
    value: (sample) => sample.value,
    unit: (sample) => sample.viewUnit,
  })
}
