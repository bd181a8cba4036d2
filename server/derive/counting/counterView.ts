import type { CounterPeriod, CounterView } from '../../wire/replies.ts'
import { STRAIGHT_MS } from '../integrate.ts'
import type { Counter, CounterContext } from './counterContext.ts'
import { halfWidthOf, usualPeriods, withStep } from './periods.ts'

/** A counter with less than this share of its time missing or bridged counts as good [default]. */
const GOOD_SHARE = 0.001
/** What may be bridged anywhere [s] makes nothing uncertain. */
const BRIDGED_S = STRAIGHT_MS / 1000
/** Meter and integral may differ by this share over a day (trade practice, no source). */
const MOST_DIFFERENCE = 0.02
/** They are compared only where the integral missed less than this share of the day, … */
const MOST_MISSED = 0.01
/** … where the meter counted at least this many of its own steps, … */
const FEWEST_STEPS = 100
/** … and for so long [ms] that a meter which speaks every few seconds cannot differ by when it began. */
const SHORTEST_MS = 3_600_000

/** Meter and integral began within this time [ms] of each other. */
const TOGETHER_MS = 60_000

type Periods = ReturnType<typeof usualPeriods>

/** Null before it began to count. */
export function viewCounter(counter: Counter, context: CounterContext, now: number): CounterView | null {
  const { kind, tally, check } = counter
  const { value, at, gapSeconds, uncertainSeconds } = tally.state()
  const since = tally.since()
  if (since === null) return null
  const gaps = { gapSeconds: gapSeconds + tally.openSeconds(now), uncertainSeconds }
  const periods = usualPeriods(tally, context.calendar, now)
  const stepped = <T extends { u95?: number }>(part: T) => withStep(part, counter)
  const compared = check && compare(counter, periods, usualPeriods(check, context.calendar, now))
  return {
    id: kind.id,
    name: kind.name,
    group: kind.group,
    unit: kind.unit,
    source: tally.source,
    value,
    since,
    at,
    ...gaps,
    ...stepped(halfWidthOf(tally.state())),
    today: periods.today && stepped(periods.today),
    yesterday: periods.yesterday && stepped(periods.yesterday),
    thisMonth: periods.thisMonth && stepped(periods.thisMonth),
    quality: at === null ? 'bad' : qualityOf(gaps.gapSeconds + uncertainSeconds, (now - since) / 1000),
    ...peakOf(counter, context),
    ...(compared ? { check: compared } : {}),
    remarks: [...remarksOnCheck(compared), ...remarkOnMeter(counter, context)],
  }
}

function qualityOf(missing: number, elapsed: number): CounterView['quality'] {
  return missing > Math.max(BRIDGED_S, GOOD_SHARE * elapsed) ? 'uncertain' : 'good'
}

function peakOf(
  { kind: { counting }, peak }: Counter,
  { unitOf }: CounterContext,
): Pick<CounterView, 'peak'> {
  const highest = peak?.()
  const unit = counting.by === 'events' && counting.peak ? unitOf(counting.peak) : undefined
  return highest && unit !== undefined ? { peak: { ...highest, unit } } : {}
}

function compare(counter: Counter, metered: Periods, integrated: Periods): NonNullable<CounterView['check']> {
  const fewest = FEWEST_STEPS * (counter.meter?.step ?? 0)
  return {
    today: difference(metered.today, integrated.today, fewest),
    yesterday: difference(metered.yesterday, integrated.yesterday, fewest),
  }
}

/** How much more was integrated than metered, as a share of the metered; null where they cannot be compared. */
function difference(
  metered: CounterPeriod | null,
  integrated: CounterPeriod | null,
  fewest: number,
): number | null {
  if (!metered || !integrated || Math.abs(metered.from - integrated.from) > TOGETHER_MS) return null
  if (Math.min(metered.to - metered.from, integrated.to - integrated.from) < SHORTEST_MS) return null
  const missed = Math.max(metered.gapSeconds, integrated.gapSeconds)
  if (missed > (MOST_MISSED * (metered.to - metered.from)) / 1000) return null
  if (metered.value <= 0 || metered.value < fewest) return null
  return (integrated.value - metered.value) / metered.value
}

function remarksOnCheck(check: CounterView['check']): string[] {
  return (['today', 'yesterday'] as const).flatMap((day) => {
    const share = check?.[day] ?? 0
    if (Math.abs(share) <= MOST_DIFFERENCE) return []
    const [percent, way] = [Math.abs(share * 100).toFixed(1), share < 0 ? 'more' : 'less']
    return [
      `${day === 'today' ? 'Today' : 'Yesterday'} the meter counted ${percent} % ${way} than the integral of the live figure: check the meter, its scale and the other instrument.`,
    ]
  })
}

function remarkOnMeter({ meter }: Counter, { calendar }: CounterContext): string[] {
  const note = meter?.note()
  return note ? [`On ${calendar.dayOf(note.at).date} ${note.text}.`] : []
}
