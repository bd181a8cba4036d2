import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { createFilterSet, matchesFilter } from '../../../../server/ingest/broker/topicFilter.ts'

describe('matchesFilter', () => {
  // Source: MQTT 3.1.1 / 5.0 § 4.7, the examples of the text.
  it.each([
    ['sport/tennis/player1/#', 'sport/tennis/player1', true],
    ['sport/tennis/player1/#', 'sport/tennis/player1/ranking', true],
    ['sport/tennis/player1/#', 'sport/tennis/player1/score/wimbledon', true],
    ['sport/#', 'sport', true],
    ['#', 'sport/tennis', true],
    ['sport/tennis/+', 'sport/tennis/player1', true],
    ['sport/tennis/+', 'sport/tennis/player1/ranking', false],
    ['sport/+', 'sport', false],
    ['sport/+', 'sport/', true],
    ['+/+', '/finance', true],
    ['/+', '/finance', true],
    ['+', '/finance', false],
    ['#', '$SYS/monitor/Clients', false],
    ['+/monitor/Clients', '$SYS/monitor/Clients', false],
    ['$SYS/#', '$SYS/monitor/Clients', true],
    ['$SYS/monitor/+', '$SYS/monitor/Clients', true],
    ['ACCOUNTS', 'Accounts', false],
  ])('by the standard’s example: %s and %s → %s', (filter, topic, fits) => {
    expect(matchesFilter(filter, topic)).toBe(fits)
  })

  it('agrees with a regular expression made from the filter', () => {
    const level = fc.constantFrom('a', 'b', '')
    const topic = fc.array(level, { minLength: 1, maxLength: 4 }).map((levels) => levels.join('/'))
    const filter = fc
      .tuple(fc.array(fc.oneof(level, fc.constant('+')), { minLength: 1, maxLength: 4 }), fc.boolean())
      .map(([levels, isOpen]) => [...levels, ...(isOpen ? ['#'] : [])].join('/'))
    const model = (text: string) => new RegExp(`^${text.replaceAll('+', '[^/]*').replace(/\/#$/, '(/.*)?')}$`)
    fc.assert(
      fc.property(filter, topic, (one, name) => {
        expect(matchesFilter(one, name)).toBe(model(one).test(name))
      }),
    )
  })
})

describe('createFilterSet', () => {
  it('leaves out filters that lie within others', () => {
    const set = createFilterSet()
    set.add(['a/b', 'a/+', 'a/#', 'b/c', '+/c', 'c/#', '+/#'])
    expect(set.minimal()).toEqual(['+/#'])
    set.add(['#'])
    expect(set.minimal()).toEqual(['#'])
  })

  it('keeps filters that overlap only in part, and "$" beside "#"', () => {
    const set = createFilterSet()
    expect(set.add(['a/+', '+/b', '#', '$own/x'])).toEqual(['a/+', '+/b', '#', '$own/x'])
    expect(set.minimal().sort()).toEqual(['#', '$own/x'])
    const other = createFilterSet()
    other.add(['a/+', '+/b', 'a/+/#'])
    expect(other.minimal().sort()).toEqual(['+/b', 'a/+/#'])
  })

  it('takes in the same topics after leaving out', () => {
    const word = fc.constantFrom('a', 'b', '+')
    const filter = fc
      .tuple(fc.array(word, { minLength: 1, maxLength: 3 }), fc.boolean())
      .map(([words, isOpen]) => [...words, ...(isOpen ? ['#'] : [])].join('/'))
    const topic = fc.array(fc.constantFrom('a', 'b', 'c'), { minLength: 1, maxLength: 4 })
    fc.assert(
      fc.property(fc.array(filter, { maxLength: 5 }), topic, (filters, levels) => {
        const set = createFilterSet()
        set.add(filters)
        const name = levels.join('/')
        const isIn = filters.some((one) => matchesFilter(one, name))
        expect(set.matches(name)).toBe(isIn)
        expect(set.minimal().some((one) => matchesFilter(one, name))).toBe(isIn)
      }),
    )
  })
})
