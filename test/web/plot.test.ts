import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { NO_SAMPLE, NOT_GIVEN } from '../../web/hold/trendRows.ts'
import { breakLines, longestBridge } from '../../web/plot/breakLines.ts'
import { bandShares, LEAST_SHARE, pathLayout } from '../../web/plot/pathBands.ts'
import { spreadLabels } from '../../web/plot/spreadLabels.ts'
import { valueRange } from '../../web/plot/valueRange.ts'

const at = [0, 1000, 2000, 3000, 4000]

describe('breakLines', () => {
  it('draws through rows without a sample when the time between samples is short', () => {
    expect(breakLines(at, [1, NO_SAMPLE, NO_SAMPLE, 4, 5], 3000)).toEqual([1, undefined, undefined, 4, 5])
  })

  it('breaks the line when the time between samples is long', () => {
    expect(breakLines(at, [1, NO_SAMPLE, NO_SAMPLE, 4, 5], 2999)).toEqual([1, null, null, 4, 5])
  })

  it('breaks the line where a value was due and could not be given', () => {
    expect(breakLines(at, [1, NOT_GIVEN, 3, NO_SAMPLE, 5], 9000)).toEqual([1, null, 3, undefined, 5])
  })

  it('draws a zero as a zero', () => {
    expect(breakLines([0], [0], 1000)).toEqual([0])
  })

  it('bridges at least two rows, so that a wide span is not full of holes', () => {
    expect([longestBridge(5000, 1000), longestBridge(5000, 144_000)]).toEqual([5000, 288_000])
  })

  it('bridges any time for what is sent only on change', () => {
    expect(longestBridge(null, 1000)).toBe(Number.POSITIVE_INFINITY)
  })
})

describe('spreadLabels', () => {
  it('leaves labels alone that do not touch', () => {
    expect(spreadLabels([10, 50], 15, [0, 100])).toEqual([10, 50])
  })

  it('keeps order, distance and bounds whenever there is room', () => {
    const wishes = fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 1, maxLength: 4 })
    fc.assert(
      fc.property(wishes, (wanted) => {
        const placed = spreadLabels(wanted, 15, [0, 100]).sort((a, b) => a - b)
        expect(placed[0]).toBeGreaterThanOrEqual(0)
        expect(placed.at(-1)).toBeLessThanOrEqual(100)
        placed.slice(1).forEach((place, i) => {
          expect(place - placed[i]!).toBeGreaterThanOrEqual(15)
        })
      }),
    )
  })
})

describe('valueRange', () => {
  it('stands several lines on zero, to be compared by length', () => {
    expect(valueRange(510, 850, 3)[0]).toBe(0)
  })

  it('lets a single steady line fill the height', () => {
    const [low, high] = valueRange(1490, 1510, 1)
    expect(low).toBeGreaterThan(1400)
    expect(high).toBeLessThan(1600)
  })

  it('does not blow noise up to the full height', () => {
    const [low, high] = valueRange(24, 24.0001, 1)
    expect(high - low).toBeGreaterThan(0.4)
  })

  it.each([
    [null, null],
    [0, 0],
  ])('gives a usable axis for %s … %s', (min, max) => {
    expect(valueRange(min, max, 1)).toEqual([0, 1])
  })
})

describe('bandShares', () => {
  it('is the share of the largest power', () => {
    expect(bandShares([1000, 500, 250])).toEqual([1, 0.5, 0.25])
  })

  it('lies between its neighbours where the power is not known', () => {
    expect(bandShares([1000, null, 500])).toEqual([1, 0.75, 0.5])
  })

  it('stays a thin line without any power', () => {
    expect(bandShares([null, 0])).toEqual([LEAST_SHARE, LEAST_SHARE])
  })
})

describe('pathLayout', () => {
  const place = (id: string, from: string | null) => ({
    id,
    from,
    name: id,
    figure: null,
    details: [],
    loss: null,
  })
  const idsOf = (path: ReturnType<typeof place>[]) => {
    const { trunk, branches } = pathLayout(path)
    return { trunk: trunk.map(({ id }) => id), branches: branches.map((nodes) => nodes.map(({ id }) => id)) }
  }

  it('parts a path where one place feeds several', () => {
    const path = [place('water', null), place('generator', 'water'), place('battery', 'generator')]
    path.push(place('inverter', 'generator'), place('loads', 'inverter'))
    expect(idsOf(path)).toEqual({
      trunk: ['water', 'generator'],
      branches: [['battery'], ['inverter', 'loads']],
    })
  })

  it('has no branches where each place feeds one', () => {
    expect(idsOf([place('water', null), place('generator', 'water')])).toEqual({
      trunk: ['water', 'generator'],
      branches: [],
    })
  })

  it('draws every place once, however they are joined', () => {
    const sources = fc.array(fc.option(fc.integer({ min: 0, max: 7 })), { minLength: 1, maxLength: 8 })
    fc.assert(
      fc.property(sources, (from) => {
        const path = from.map((source, i) => place(`p${i}`, source === null ? null : `p${source}`))
        const { trunk, branches } = idsOf(path)
        expect([...trunk, ...branches.flat()].sort()).toEqual(path.map(({ id }) => id))
      }),
    )
  })
})
