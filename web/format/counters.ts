import type { CounterGroup, CounterPeriod, CounterView, IndexValue } from '../../server/wire/replies.ts'
import { durationWords } from './age.ts'
import { formatCount, formatNumber, NO_VALUE } from './numbers.ts'
import { dateTime, dayTime } from './time.ts'
import { counterUnit, unitView } from './units.ts'

/** Groups of counters in the order in which they are read. */
export const counterGroups: [CounterGroup, string][] = [
  ['energy', 'Energy'],
  ['water', 'Water'],
  ['running', 'Running'],
  ['protection', 'Protection'],
  ['battery', 'Battery'],
]

/** What stood on a counter, in the unit that it is read in: "1831", or "–" where it did not count yet. */
export function countText(
  { unit }: Pick<CounterView, 'unit'>,
  part: Pick<CounterPeriod, 'value'> | null,
): string {
  if (!part) return NO_VALUE
  return unit === '1' ? formatCount(part.value) : formatNumber(counterUnit(unit).value(part.value)).text
}

/** "3 min not counted, 2 min 05 s uncertain"; empty where nothing is missing. */
export function gapWords({
  gapSeconds,
  uncertainSeconds,
}: Pick<CounterPeriod, 'gapSeconds' | 'uncertainSeconds'>): string {
  return [
    gapSeconds < 1 ? '' : `${durationWords(gapSeconds * 1000)} not counted`,
    uncertainSeconds < 1 ? '' : `${durationWords(uncertainSeconds * 1000)} uncertain`,
  ]
    .filter((part) => part !== '')
    .join(', ')
}

/** When counting began and what was missed; most counters share it, and then it is said once. */
export function sinceWords(counter: CounterView, zone: string): string {
  const gaps = gapWords(counter)
  return `since ${dateTime(counter.since, zone)}${gaps === '' ? '' : `; ${gaps}`}`
}

/** What belongs to one counter only: where it comes from, its highest peak, what to look at. */
export function counterNotes({ source, peak, remarks }: CounterView, zone: string): string[] {
  return [
    ...(source === 'meter' ? ['by its own meter'] : []),
    ...(peak ? [`highest ${peakText(peak)} on ${dayTime(peak.at, zone)}`] : []),
    ...remarks,
  ]
}

const PEAK_VIEWS: Record<string, string> = { 'rad/s': '/min' }

function peakText({ value, unit }: NonNullable<CounterView['peak']>): string {
  const view = unitView(unit, PEAK_VIEWS[unit] ?? unit)
  return `${formatNumber(view.value(value)).text} ${view.print}`
}

/** The number of an index, and why there is none or it is not good. */
export function indexText(
  units: { unit: string; viewUnit: string },
  value: IndexValue | null,
): { text: string; reason: string } {
  if (!value) return { text: NO_VALUE, reason: '' }
  const view = unitView(units.unit, units.viewUnit)
  const { text } = formatNumber(value.value === null ? null : view.value(value.value))
  return { text, reason: value.reasons.join('; ') }
}
