import type { Instrument } from '../../plant/plant.ts'
import { toSi } from '../../wire/units.ts'
import { rhythmOf } from '../integrate.ts'
import type { Counter, CounterContext } from './counterContext.ts'
import type { Integrated } from './integratedCounter.ts'
import type { CounterKind, MeterOfKind } from './kind.ts'
import { type MeterMemory, type MeterTraits, readMeter } from './meter.ts'
import { AHEAD_MS, createTally } from './tally.ts'

interface MeteredOptions {
  kind: CounterKind
  meter: MeterOfKind
  instrument: Instrument
  check: Integrated
}

/** Adds up the steps of a meter's own counter; the integral goes on beside it as a check. */
export function createMeteredCounter(
  { kind, meter, instrument, check }: MeteredOptions,
  context: CounterContext,
): Counter {
  const { plant, figures } = context
  const traits = traitsOf(instrument, plant.constants.get(meter.most))
  const rhythm = rhythmOf(instrument.staleAfterMs)
  const tally = createTally(context, { id: kind.id, source: 'meter', rhythm })
  const ofIncrement = halfWidthOf(instrument)
  const memory = () => tally.memory as MeterMemory | undefined
  const hasCheck = kind.figures.every((figure) => figures.has(figure))

  return {
    kind,
    tally,
    ...(hasCheck ? { check: check.tally } : {}),
    watches: [meter.role],
    meter: { step: traits.step, note: () => memory()?.note },
    tick(now) {
      tally.begin(now)
      const known = memory()
      if (known && known.at > now + AHEAD_MS) tally.memory = { ...known, at: now }
      if (hasCheck) check.tick(now)
    },
    takeReading({ measuredAt: at, receivedAt, value: reading, quality, late, ageUnknown }) {
      if (late || ageUnknown || quality === 'bad') return
      tally.begin(receivedAt)
      const before = memory()
      // What was integrated up to here must not be counted once more.
      if (!before && at < (tally.state().at ?? at)) return
      const step = readMeter(before, { reading, at }, traits)
      if (step.memory === before) return
      tally.memory = step.memory
      // Before the first reading of the meter nothing was counted, or the figure was integrated until then.
      if (!before) tally.lose({ from: tally.state().at ?? tally.since()!, to: at })
      if (step.lostFrom !== null) tally.lose({ from: step.lostFrom, to: step.from! })
      if (!before || step.from !== null)
        tally.spread(
          { value: step.increment, u95: ofIncrement(step.increment) },
          { from: step.from ?? at, to: at },
        )
    },
  }
}

/** Half-width of what a meter counted: the error of its factor; that of its steps is added once to what is shown. */
function halfWidthOf({ accuracy }: Instrument): (increment: number) => number | null {
  const { reading, distribution } = accuracy ?? {}
  if (reading === undefined) return () => null
  // 95 % of a rectangle lie within 0.95 of its half-width.
  const share = distribution === 'normal' ? reading : 0.95 * reading
  return (increment) => share * Math.abs(increment)
}

function traitsOf({ unit, range, accuracy }: Instrument, most = Number.POSITIVE_INFINITY): MeterTraits {
  return {
    most,
    step: (accuracy?.resolution ?? 0) * unit.factor,
    unit: unit.factor,
    end: range && toSi(range[1], unit),
  }
}
