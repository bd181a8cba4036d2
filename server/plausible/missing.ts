import { accuracyWords } from '../derive/explain.ts'
import type { Plant } from '../plant/plant.ts'
import type { Check, Doubt } from './doubt.ts'

/** What a plant file leaves out, and what is taken instead until somebody writes it down. */

/** Instruments that say nothing of how far they may be off. */
export const checkAccuracies: Check = ({ plant }) =>
  plant.instruments.flatMap((one, i) =>
    one.assumed === undefined
      ? []
      : [
          missing(
            `instruments[${i}].accuracy`,
            `what its plate or its data sheet says, such as "accuracy: { span: 0.5 % }"; until then it counts as ${accuracyWords(one)}`,
          ),
        ],
  )

/** Levels are read from the zero of their gauge: without its height gross head is that of a gauge at sea level. */
export const checkZeros: Check = ({ plant }) => [
  ...zeroDoubts(plant, 'headwaterLevel', 'headwaterZero'),
  ...zeroDoubts(plant, 'tailwaterLevel', 'tailwaterZero'),
]

function zeroDoubts(
  { instruments, site }: Plant,
  quantity: string,
  zero: 'headwaterZero' | 'tailwaterZero',
): Doubt[] {
  if (site.elevations[zero] !== undefined || !instruments.some((one) => one.quantity === quantity)) return []
  return [
    missing(
      `site.elevations.${zero}`,
      'the height at which this gauge reads zero, over the same zero as "turbine" ("0 m" where the gauge reads that height itself); until then it counts as 0 m',
    ),
  ]
}

function missing(path: string, expected: string): Doubt {
  return { path, received: 'nothing', expected, kind: 'missing' }
}
