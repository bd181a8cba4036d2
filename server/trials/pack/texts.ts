import { type Units, viewOf } from '../../wire/amounts.ts'
import { plain } from '../../wire/numbers.ts'
import type { PackedRun } from './packedRun.ts'

/** A value with its unit, in the unit that people read. */
export function amountText(figure: Units, value: number): string {
  const view = viewOf(figure)
  return `${plain(view.value(value))} ${view.print}`.trim()
}

/** A tolerance or difference with its unit. */
export function differenceText(figure: Units, value: number): string {
  const view = viewOf(figure)
  return `${plain(view.difference(value))} ${view.print}`.trim()
}

/** Five significant digits, for files that programs read too. */
export function short(value: number): string {
  return String(Number(value.toPrecision(5)))
}

/** "2026-11-25", in the zone of the plant. */
function dayText(at: number, timeZone: string): string {
  const { year, month, day } = partsOf(at, timeZone)
  return `${year}-${month}-${day}`
}

/** "2026-11-25 14:03:20", in the zone of the plant. */
export function timeText(at: number, timeZone: string): string {
  const { hour, minute, second } = partsOf(at, timeZone)
  return `${dayText(at, timeZone)} ${hour}:${minute}:${second}`
}

function partsOf(at: number, timeZone: string): Record<string, string> {
  const format = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
    hourCycle: 'h23',
  })
  return Object.fromEntries(format.formatToParts(at).map(({ type, value }) => [type, value]))
}

/** Title and subtitle of every picture of a run. */
export function plotTitles({ summary, method }: PackedRun): { title: string; subtitle: string } {
  const parts = [
    method.view.name,
    method.plantName + (method.isSimulated ? ' (simulated)' : ''),
    dayText(summary.startedAt, method.timeZone),
    summary.className,
    summary.group,
    summary.year,
  ]
  return { title: summary.name, subtitle: parts.filter((part) => part !== '').join(' · ') }
}
