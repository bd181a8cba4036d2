import { formatCount, formatNumber, NO_VALUE } from '../../server/wire/numbers.ts'
import type {
  CounterGroup,
  CounterPeriod,
  CounterView,
  IndexValue,
  IndexView,
} from '../../server/wire/replies.ts'
import { type UnitView, unitView } from '../../server/wire/units.ts'
import { durationWords } from './age.ts'
import { dateTime, dayTime } from './time.ts'

/** Groups of counters in the order in which they are read. */
export const counterGroups: [CounterGroup, string][] = [
  ['energy', 'Energy'],
  ['water', 'Water'],
  ['running', 'Running'],
  ['protection', 'Protection'],
  ['battery', 'Battery'],
]

const COUNTER_VIEWS: Record<string, string> = { J: 'kW.h', s: 'h', C: 'A.h' }

/** Counters come in SI; energy, time and charge are read in kWh, hours and Ah. */
export function counterUnit(wire: string): UnitView {
  return unitView(wire, COUNTER_VIEWS[wire] ?? wire)
}

/** What stood on a counter, in the unit that it is read in: "1831", or "–" where it did not count yet. */
export function countText(
  { unit }: Pick<CounterView, 'unit'>,
  part: Pick<CounterPeriod, 'value'> | null,
): string {
  if (!part) return NO_VALUE
  return unit === '1' ? formatCount(part.value) : formatNumber(counterUnit(unit).value(part.value)).text
}

/** A gap of up to 5 s is bridged, and none worth a word. */
const SHORT_S = 5

/** "3 min not counted, 2 min 05 s uncertain"; empty where nothing is missing. */
export function gapWords({
  gapSeconds,
  uncertainSeconds,
}: Pick<CounterPeriod, 'gapSeconds' | 'uncertainSeconds'>): string {
  return [
    gapSeconds <= SHORT_S ? '' : `${durationWords(gapSeconds * 1000)} not counted`,
    uncertainSeconds <= SHORT_S ? '' : `${durationWords(uncertainSeconds * 1000)} uncertain`,
  ]
    .filter((part) => part !== '')
    .join(', ')
}

/** Counters that began within a minute of each other began together. */
const TOGETHER_MS = 60_000

/** When most counters began; undefined where there is none. */
export function sharedStart(counters: readonly CounterView[]): number | undefined {
  const together = (since: number) =>
    counters.filter((one) => Math.abs(one.since - since) <= TOGETHER_MS).length
  const starts = counters.map((counter) => counter.since)
  return starts.sort((a, b) => together(b) - together(a))[0]
}

/** What belongs to one counter only: its source, its own begin, what is missing, its peak, what to look at. */
export function counterNotes(
  counter: CounterView,
  { zone, start }: { zone: string; start: number | undefined },
): string[] {
  const { source, peak, remarks, since, today } = counter
  const hasOwnStart = start === undefined || Math.abs(since - start) > TOGETHER_MS
  // What began today has missed the same today as since it began.
  const todaysGaps = today && today.from > since ? gapWords(today) : ''
  const gaps = gapWords(counter)
  return [
    ...(source === 'meter' ? ['by its own meter'] : []),
    ...halfWidthWords(counter),
    ...(hasOwnStart ? [`since ${dateTime(since, zone)}`] : []),
    ...(gaps === '' ? [] : [gaps]),
    ...(todaysGaps === '' || todaysGaps === gaps ? [] : [`of that today ${todaysGaps}`]),
    ...(peak ? [`highest ${peakText(peak)} on ${dayTime(peak.at, zone)}`] : []),
    ...remarks,
  ]
}

/** "± 1.1 %": by what its instruments are off all the time; what is missing stands apart. */
function halfWidthWords({ u95, value }: Pick<CounterView, 'u95' | 'value'>): string[] {
  if (u95 === undefined || value === 0) return []
  const percent = (100 * u95) / Math.abs(value)
  return [`± ${formatNumber(percent, { u95: percent }).text} %`]
}

const PEAK_VIEWS: Record<string, string> = { 'rad/s': '/min' }

function peakText({ value, unit }: NonNullable<CounterView['peak']>): string {
  const view = unitView(unit, PEAK_VIEWS[unit] ?? unit)
  return `${formatNumber(view.value(value)).text} ${view.print}`
}

/** What a folded group says of its events: "2 over-speed events, 1 forced stop"; empty for a group without. */
export function eventWords(counters: readonly CounterView[]): string {
  const countOf = (id: string) => counters.find((counter) => counter.id === id)?.value
  return [
    [countOf('overSpeedEvents'), 'over-speed event'] as const,
    [countOf('forcedStops'), 'forced stop'] as const,
  ]
    .flatMap(([value, word]) =>
      value === undefined ? [] : [`${formatCount(value)} ${word}${value === 1 ? '' : 's'}`],
    )
    .join(', ')
}

/** The number of an index as read; "–" where there is none. */
export function indexText(units: { unit: string; viewUnit: string }, value: IndexValue | null): string {
  const view = unitView(units.unit, units.viewUnit)
  const text = (si: number) => formatNumber(view.value(si)).text
  if (value?.value == null) return formatNumber(null).text
  const [least, most] = [text(value.value), text(value.most ?? value.value)]
  return least === most ? least : `${least} … ${most}`
}

/** Why a value is missing or not good, each reason once. */
export function indexReasons({ thisMonth, since }: Pick<IndexView, 'thisMonth' | 'since'>): string {
  return [...new Set([...(thisMonth?.reasons ?? []), ...(since?.reasons ?? [])])].join('; ')
}
