import { describe, expect, it } from 'vitest'
import { type Cell, cellOf, faultsOf } from '../../../support/attributionCells.ts'
import { type InstrumentFault, lookAt } from '../../../support/faultyInstruments.ts'
import { type OperatedPlant, operatePlant } from '../../../support/operatedPlant.ts'
import { misjudged } from '../../../support/recordedRig.ts'

const operated = Object.fromEntries(
  ['quennerby', 'ostrelby', 'skelderwath'].map((id) => [id, operatePlant(id, 1)]),
) as Record<'quennerby' | 'ostrelby' | 'skelderwath', OperatedPlant>

/** Some faults once, operating points and seeds in turn; `npm run bench -- attribution` has every cell with many seeds. */
function cellsOf(plant: OperatedPlant, chosen: (fault: InstrumentFault, i: number) => boolean): Cell[] {
  return faultsOf(plant)
    .filter(chosen)
    .map((fault, i) => cellOf(plant, i % plant.points.length, fault, [i + 1]))
}

const total = (cells: readonly Cell[], outcome: keyof Cell['counts']) =>
  cells.reduce((sum, { counts }) => sum + counts[outcome], 0)

const print = ({ point, fault }: Cell) => `${fault.kind} ${fault.instrument} ${fault.other ?? ''} ${point}`

describe('the instrument that reads wrong', () => {
  it.each(Object.keys(operated) as (keyof typeof operated)[])(
    'is named at %s, or is one of those that cannot be told apart, and nobody else is named without it',
    (id) => {
      const cells = cellsOf(operated[id], ({ kind }, i) => i % (kind === 'swapped' ? 4 : 2) === 0)
      expect(cells.filter(({ counts }) => counts.wrong > 0).map(print)).toEqual([])
      const detectable = cells.filter((cell) => cell.isDetectable)
      expect(detectable.length).toBeGreaterThan(10)
      const named = total(detectable, 'right') + total(detectable, 'among')
      expect(named / detectable.length).toBeGreaterThanOrEqual(0.95)
    },
  )
})

/** Sentences of the review of this project that accused somebody else. */
describe('faults that once had others accused', () => {
  const named = (id: keyof typeof operated, fault: InstrumentFault) => {
    const plant = operated[id]
    return lookAt({ operated: plant, point: 0, known: misjudged(plant.plant, 1), seed: 1, fault }).suspects
  }

  it.each([
    ['quennerby', 'dump-current', 1],
    ['skelderwath', 'headwater-level', 1],
  ] as const)('at %s: %s with its zero off by %d', (id, instrument, by) => {
    expect(named(id, { kind: 'zero', instrument, by }).map((one) => one.id)).toContain(instrument)
  })

  it('the tachometer of the generator, 5 % high, and not the better one of the turbine', () => {
    const suspects = named('skelderwath', { kind: 'gain', instrument: 'speed' })
    expect(suspects.map(({ id }) => id)).toEqual(['speed'])
    expect(suspects[0]!.says).toMatch(/^reads about (4\.[6-9]|5(\.[0-4])?) % high$/)
  })

  it('a power that is ten times too small, while the phases tell another', () => {
    const suspects = named('skelderwath', { kind: 'gain', instrument: 'active-power', by: 0.1 })
    expect(suspects.map(({ id }) => id)).toEqual(['active-power'])
    expect(suspects[0]!.says).toMatch(/^reads about (89|90|91) % low$|^reads about [0-9]+ kW low$/)
  })

  it('the meter of the village, 15 % low, beside what else can take power from the bus', () => {
    const suspects = named('ostrelby', { kind: 'gain', instrument: 'village-power', by: 0.85 })
    expect(suspects.map(({ id }) => id)).toContain('village-power')
  })

  it('two levels in each other’s place', () => {
    const fault: InstrumentFault = {
      kind: 'swapped',
      instrument: 'headwater-level',
      other: 'tailwater-level',
    }
    expect(named('skelderwath', fault).map(({ id }) => id)).toContain('headwater-level, tailwater-level')
  })
})

describe('two faults at once', () => {
  it('are not laid on one instrument: the sentence says that no single cause explains them', () => {
    const plant = operated.quennerby
    const also = { kind: 'gain', instrument: 'inverter-output-power', by: 1.1 } as const
    const fault = { kind: 'gain', instrument: 'speed' } as const
    const reply = lookAt({ operated: plant, point: 0, known: plant.plant, seed: 1, fault, also })
    expect(reply.isExplained).toBe(false)
    expect(reply.sentence).toMatch(/^No single cause explains what does not fit; nearest: /)
  })
})
