import { describe, expect, it } from 'vitest'
import { createHandshakes } from '../../../../server/ingest/broker/handshakes.ts'

// What is checked are rules of the house.
describe('handshakes of many networks', () => {
  function begin() {
    let now = 0
    const handshakes = createHandshakes(() => now)
    const taken = (networks: Iterable<string>) =>
      [...networks].filter((network) => handshakes.refuse(network) === undefined).length
    const wait = (ms: number) => {
      now += ms
    }
    return { handshakes, taken, wait }
  }
  const many = (count: number) => Array.from({ length: count }, (_, i) => `2001:db8:0:${i.toString(16)}`)

  it('cost together no more than a few of them, however many there are', () => {
    const { taken, wait } = begin()
    expect(taken(many(5000))).toBe(200)
    let later = 0
    for (let tenth = 0; tenth < 100; tenth++) {
      wait(100)
      later += taken(many(500))
    }
    // what came in the last second may wait for a share
    expect(later).toBeGreaterThanOrEqual(475)
    expect(later).toBeLessThanOrEqual(500)
  })

  it('take nothing from a network from which somebody has logged in, which has its own rate', () => {
    const { handshakes, taken } = begin()
    handshakes.known('192.0.2.7')
    taken(many(5000))
    expect(taken(Array(150).fill('192.0.2.7'))).toBe(100)
    expect(handshakes.refuse('192.0.2.7')).toBe('network')
    expect(handshakes.refuse('192.0.2.8')).toBe('strangers')
  })

  it('of a few greedy ones leave room for one that comes for the first time', () => {
    const { taken, wait } = begin()
    const greedy = ['198.51.100.1', '198.51.100.2', '198.51.100.3', '198.51.100.4', '198.51.100.5']
    for (let tenth = 0; tenth < 100; tenth++) {
      wait(100)
      for (const network of greedy) taken(Array(20).fill(network))
    }
    expect(taken(['203.0.113.9'])).toBe(1)
  })
})
