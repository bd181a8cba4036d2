import { describe, expect, it } from 'vitest'
import { withEither, withInterval } from '../../../server/wire/amounts.ts'

const FLOW = { unit: 'm3/s', viewUnit: 'L/s' }

describe('a value with its interval', () => {
  // Rule: JCGM 100:2008, 7.2.6. Rounded by hand.
  it('ends where its uncertainty does, in the unit people read', () => {
    expect(withInterval(FLOW, 0.0254312, 0.00058)).toBe('25.4 ± 0.6')
    expect(withInterval({ unit: 'K', viewUnit: 'Cel' }, 293.15, 0.12)).toBe('20.00 ± 0.12')
  })

  it('keeps five digits where there is no interval, however small it is', () => {
    expect(withInterval({ unit: 'kg.m2', viewUnit: 'kg.m2' }, 0.000123456, 0)).toBe('0.00012346')
    expect(withInterval({ unit: 'kg.m2', viewUnit: 'kg.m2' }, 1.5e-7, 0)).toBe('1.5·10⁻⁷')
  })

  it('names both ends where they are not about as far from it', () => {
    expect(withEither(FLOW, 0.0028, [0.0027, 0.0046])).toBe('2.8 (2.7 to 4.6)')
  })
})
