import { planPlant } from '../../server/livePlant.ts'
import { unitOf } from '../../server/wire/units.ts'
import { type EvaluatorBench, evaluatorBench } from './evaluatorBench.ts'
import { START } from './manualClock.ts'
import { plantOf } from './plants.ts'

/** Value in SI of an own figure, the last one unless named, from these readings in SI; NaN where it is blank. */
export type OwnLaw = (readings?: Readonly<Record<string, number>>, figure?: string) => number

/**
 * The section `figures` of a plant file that has just these instruments, computed as the server computes it. Throws
 * where the file has a fault, such as a formula whose units do not add up.
 *
 * @param instruments Id or role of what is measured → the unit that it comes in.
 * @param figures One own figure each, in YAML flow style but without its braces and name: "id: loss, formula: …".
 */
export function ownLaw(instruments: Readonly<Record<string, string>>, ...figures: string[]): OwnLaw {
  const { bench, ids } = benchOf(instruments, figures)
  let at = START
  return (readings = {}, figure = ids.at(-1)!) => {
    // After a silence: what is computed now has nothing to do with what was before.
    at += 3_600_000
    for (const [quantity, value] of Object.entries(readings)) bench.read(quantity, value, { measuredAt: at })
    bench.evaluate(at)
    return bench.view(figure).value ?? Number.NaN
  }
}

function benchOf(
  instruments: Readonly<Record<string, string>>,
  figures: readonly string[],
): { bench: EvaluatorBench; ids: string[] } {
  const measured = Object.entries(instruments).map(([quantity, unit]) => {
    const kind = /\.\d+$/.test(quantity) ? `role: ${quantity}, ` : ''
    return `  - { id: ${quantity.replace('.', '-')}, ${kind}topic: t/${quantity}, unit: "${unitOf(unit).code}" }`
  })
  const plant = plantOf(
    [
      'instruments:',
      ...measured,
      'figures:',
      ...figures.map((one) => `  - { name: An own figure, ${one} }`),
    ].join('\n'),
  )
  const { faults } = planPlant(plant)
  if (faults.length > 0)
    throw new Error(faults.map((one) => `${one.path}: ${one.received}; expected ${one.expected}`).join('\n'))
  return { bench: evaluatorBench(plant), ids: plant.figures.map(({ id }) => id) }
}
