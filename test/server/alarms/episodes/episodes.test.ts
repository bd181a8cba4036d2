import { describe, expect, it } from 'vitest'
import type { CausePath, CausePathOf } from '../../../../server/alarms/episodes/causePaths.ts'
import { type Member, placeRaised, placesOf } from '../../../../server/alarms/episodes/episodes.ts'
import { createOnset } from '../../../../server/alarms/episodes/onset.ts'

const MINUTE: CausePath = { why: 'because', pace: 'minute' }

function member(id: string, from: number, to = from, more: Partial<Member> = {}): Member {
  const fixed = { priority: 'medium', shows: id, endedAt: null, isOpen: true, episode: 'one' } as const
  return { ...fixed, id, onset: { from, to }, ...more }
}

/** "a>b" says that b can follow from a. */
function ways(paths: Record<string, CausePath>): CausePathOf {
  return (cause, consequence) => paths[`${cause}>${consequence}`]
}

const fresh = (id: string, from: number, to = from) => member(id, from, to, { episode: null })

describe('placeRaised', () => {
  it('begins an episode where nothing is open', () => {
    expect(placeRaised(fresh('a', 5), [], ways({})).get('a')).toEqual({
      episode: 'a-5',
      after: null,
      because: null,
    })
  })

  it('joins what shares its time and has a way to it, and says which way', () => {
    const places = placeRaised(fresh('b', 200), [member('a', 0)], ways({ 'a>b': MINUTE }))
    expect(places.get('b')).toEqual({ episode: 'one', after: 'a', because: 'because' })
  })

  it('does not join what only came at the same time', () => {
    expect(placeRaised(fresh('b', 0), [member('a', 0)], ways({})).get('b')!.episode).toBe('b-0')
  })

  it('does not join what came more than a minute after its cause was over, nor a closed episode', () => {
    const paths = ways({ 'a>b': MINUTE })
    const over = member('a', 0, 0, { endedAt: 1000 })
    expect(placeRaised(fresh('b', 61_000), [over], paths).get('b')!.after).toBe('a')
    expect(placeRaised(fresh('b', 61_001), [over], paths).get('b')!.after).toBeNull()
    expect(placeRaised(fresh('b', 10), [{ ...over, isOpen: false }], paths).get('b')!.after).toBeNull()
  })

  it('lets water take its time as long as the cause lasts', () => {
    const paths = ways({ 'rack>level': { why: 'held back', pace: 'while' } })
    const rack = member('rack', 0)
    expect(placeRaised(fresh('level', 3_600_000), [rack], paths).get('level')!.after).toBe('rack')
    const cleaned = { ...rack, endedAt: 1000 }
    expect(placeRaised(fresh('level', 3_600_000), [cleaned], paths).get('level')!.after).toBeNull()
  })

  it('goes by the times of measurement: what arrives late may have been first', () => {
    const paths = ways({ 'grid>speed': MINUTE, 'grid>voltage': MINUTE, 'speed>voltage': MINUTE })
    const others = [member('speed', 300), member('voltage', 400)]
    const places = placeRaised(fresh('grid', 100), others, paths)
    expect([...places].map(([id, { after }]) => [id, after])).toEqual([
      ['grid', null],
      ['speed', 'grid'],
      ['voltage', 'grid'],
    ])
  })

  it('keeps an alarm that comes again before anybody answered in its episode', () => {
    const again = { ...member('a', 900_000), episode: 'one' }
    expect(placeRaised(again, [], ways({})).get('a')!.episode).toBe('one')
  })
})

describe('placesOf', () => {
  it('tells no first where the periods of the instruments overlap', () => {
    // The contact is sent each 10 s and was closed 10 s before: it may have opened before the speed rose, or after.
    const places = placesOf([member('contact', 0, 10_000), member('speed', 4_900, 5_000)], ways({}))
    expect([...places.values()].map((one) => one.after)).toEqual([null, null])
    const earlier = placesOf([member('contact', 0, 10_000), member('speed', 10_100, 10_200)], ways({}))
    expect(earlier.get('speed')!.after).toBe('contact')
  })

  it('names of several that show one thing the milder one, which is passed first', () => {
    const both = [
      member('over120', 0, 100, { shows: 'speed', priority: 'high' }),
      member('over110', 0, 100, { shows: 'speed' }),
    ]
    const places = placesOf(both, ways({ 'over110>over120': MINUTE }))
    expect(places.get('over110')!.after).toBeNull()
    expect(places.get('over120')).toEqual({ episode: 'one', after: 'over110', because: 'because' })
  })
})

describe('createOnset', () => {
  it('begins up to a period before the reading that showed it, and knows nothing of delays', () => {
    const onset = createOnset(1000)
    onset.update({ holds: false, at: 0 })
    onset.update({ holds: true, at: 5000 })
    onset.update({ holds: undefined, at: 5500 })
    onset.update({ holds: true, at: 9000 })
    expect(onset.span()).toEqual({ from: 4000, to: 5000 })
    onset.update({ holds: false, at: 9500 })
    expect(onset.span()).toBeUndefined()
  })
})
