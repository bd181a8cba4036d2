import type { Instrument } from '../../server/plant/plant.ts'
import type { AgreementReply } from '../../server/wire/agreement.ts'
import { type InstrumentFault, lookAt } from './faultyInstruments.ts'
import type { OperatedPlant } from './operatedPlant.ts'
import { misjudged } from './recordedRig.ts'

/** right: named alone · among: one of those that cannot be told apart · silent: nobody named · wrong: only others named. */
export type Outcome = 'right' | 'among' | 'silent' | 'wrong'

/** One fault at one operating point, with the outcomes of all seeds. */
export interface Cell {
  point: string
  fault: InstrumentFault
  /** Largest test that the fault alone gives, instruments and constants perfect, in standard deviations. */
  strength: number
  /** Strong enough to be named in 97.7 % of draws: two standard deviations over the level. Below, silence is no fault. */
  isDetectable: boolean
  counts: Record<Outcome, number>
  /** How many were named, summed over the draws in which anybody was. */
  named: number
}

/** Of any pair: of one unit, so that cables or topics can be exchanged. */
export function faultsOf({ plant }: OperatedPlant): InstrumentFault[] {
  const meters = plant.instruments.filter((one) => !one.role?.discrete && one.range)
  const single = meters.flatMap(({ id }) =>
    (['gain', 'zero', 'stuck'] as const).map((kind): InstrumentFault => ({ kind, instrument: id })),
  )
  const pairs = meters.flatMap((one, i) =>
    meters
      .slice(i + 1)
      .filter((other) => isAlike(one, other))
      .map((other): InstrumentFault => ({ kind: 'swapped', instrument: one.id, other: other.id })),
  )
  return [...single, ...pairs]
}

function isAlike(one: Instrument, other: Instrument): boolean {
  return one.unit.code === other.unit.code && one.role !== undefined && one.role.group === other.role?.group
}

const ENOUGH = 2
/** A test that stands as high without the fault: no relation sees it. */
const UNSEEN = 0.05

/** @param seeds Draws of instruments and constants; none where no relation sees the fault. */
export function cellOf(
  operated: OperatedPlant,
  point: number,
  fault: InstrumentFault,
  seeds: readonly number[],
): Cell {
  const { plant, points } = operated
  const ideal = lookAt({ operated, point, known: plant, seed: undefined, fault })
  const isSeen = Math.abs(ideal.largest - soundTest(operated, point)) > UNSEEN
  const counts = { right: 0, among: 0, silent: 0, wrong: 0 }
  let named = 0
  for (const seed of isSeen ? seeds : []) {
    const reply = lookAt({ operated, point, known: misjudged(plant, seed), seed, fault })
    counts[outcomeOf(reply, fault)] += 1
    named += reply.suspects.length
  }
  const isDetectable = isSeen && ideal.largest >= ideal.threshold + ENOUGH
  return { point: points[point]!.name, fault, strength: ideal.largest, isDetectable, counts, named }
}

const soundTests = new WeakMap<object, number>()

/** Largest test of the plant with perfect instruments. */
function soundTest(operated: OperatedPlant, point: number): number {
  const { truths } = operated.points[point]!
  const known = soundTests.get(truths)
  if (known !== undefined) return known
  const { largest } = lookAt({ operated, point, known: operated.plant, seed: undefined })
  soundTests.set(truths, largest)
  return largest
}

export function outcomeOf({ suspects }: AgreementReply, { instrument, other }: InstrumentFault): Outcome {
  if (suspects.length === 0) return 'silent'
  const isNamed = suspects.some(({ id }) =>
    other === undefined ? id === instrument : id === `${instrument}, ${other}`,
  )
  if (!isNamed) return 'wrong'
  return suspects.length === 1 ? 'right' : 'among'
}
