import { nodeOf } from '../../server/derive/plan.ts'
import { readMeasure } from '../../server/plant/measures.ts'
import { unitOf } from '../../server/wire/units.ts'
import { type EvaluatorBench, evaluatorBench } from './evaluatorBench.ts'
import { START } from './manualClock.ts'
import { plantOf } from './plants.ts'

/** Quantity → amounts as texts, e.g. "inletPressure" → "2.33 bar". */
export type Readings = Readonly<Record<string, string>>

/**
 * A plant made of these sections that has just the instruments for these readings, with the readings taken.
 *
 * @param sections Sections of the plant file in YAML flow style by name; `site` goes beside the time zone.
 */
export function figureBench(sections: Readonly<Record<string, string>>, readings: Readings): EvaluatorBench {
  const { site = '', use = 'rig', ...others } = sections
  const instruments = Object.entries(readings).map(([quantity, text]) => {
    const unit = /\s(\S+)$/.exec(text)?.[1] ?? '1'
    return `  - { id: i-${quantity.replace('.', '-')}, role: ${quantity}, topic: t/${quantity}, unit: "${unit}" }`
  })
  const bench = evaluatorBench(
    plantOf(
      [
        'headrace: 1',
        'id: bench',
        'name: Bench',
        `use: ${use}`,
        `site: { timeZone: Europe/London${site === '' ? '' : `, ${site}`} }`,
        ...Object.entries(others).map(([name, text]) => `${name}: ${text}`),
        'instruments:',
        ...instruments,
      ].join('\n'),
    ),
  )
  take(bench, readings, START)
  bench.evaluate(START)
  return bench
}

/** SI value of a figure at a plant made of these sections, from these readings; NaN where it has none. */
export function figureOf(
  figure: string,
  readings: Readings,
  sections: Readonly<Record<string, string>> = {},
) {
  const bench = figureBench(sections, readings)
  return bench.figures.has(figure) ? (bench.view(figure).value ?? Number.NaN) : Number.NaN
}

/** Reads all of these at one time. */
export function take(bench: EvaluatorBench, readings: Readings, at: number): void {
  for (const [quantity, text] of Object.entries(readings))
    bench.read(quantity, siOf(bench, quantity, text), { measuredAt: at })
}

function siOf({ plan }: EvaluatorBench, quantity: string, text: string): number {
  const amount = readMeasure(text, unitOf(nodeOf(plan, quantity)!.description.unit))
  if ('si' in amount) return amount.si
  throw new Error(`${quantity}: ${text}: expected ${amount.expected}`)
}
