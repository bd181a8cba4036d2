import { beforeEach, describe, expect, it } from 'vitest'
import type { CertificatePair } from '../../server/certificate.ts'
import type { ToPage } from '../../server/channel/messages.ts'
import type { Answers } from '../../server/channel/questions.ts'
import type { PageEvents } from '../../server/edges.ts'
import { readOptions } from '../../server/options.ts'
import { DONE } from '../../server/outcome.ts'
import { createPageKeeper, type PageKeeper } from '../../server/pageKeeper.ts'
import { type ManualClock, manualClock, START } from '../support/manualClock.ts'
import { memoryStore } from '../support/memoryHistory.ts'

// What is checked follows from the rule of the house that the watch goes on whatever happens to a page; no source.
describe('the keeper of the page side', () => {
  let clock: ManualClock
  let launched: (PageEvents & { got: ToPage[]; isKilled: boolean })[]
  let told: string[]
  let followed: number
  let keeper: PageKeeper
  let pair: CertificatePair
  let renew: (pair: CertificatePair) => void
  const newest = () => launched.at(-1)!
  const serve = () => {
    newest().message({ kind: 'here' })
    newest().message({ kind: 'open', url: 'http://127.0.0.1:4321' })
  }

  beforeEach(() => {
    clock = manualClock(START)
    launched = []
    told = []
    followed = 0
    pair = { cert: 'first', key: 'first key' }
    const feed = { open: () => followed++, close: () => followed--, taken: () => {} }
    keeper = createPageKeeper({ feed: feed as never }, { enableChannel: () => DONE } as unknown as Answers, {
      clock,
      options: { ...readOptions([], {}), httpPort: 0, newSetupCode: true, mqttPassword: 'secret' },
      history: memoryStore(),
      tell: (text) => told.push(text),
      certificate: {
        pair: () => pair,
        onChange(listener) {
          renew = listener
          return () => {}
        },
        health: () => ({ endsAt: START, isEnding: false, fault: null }),
        close: () => {},
      },
      launchPage(events) {
        const one = { ...events, got: [] as ToPage[], isKilled: false }
        launched.push(one)
        return {
          post: (message) => one.got.push(message),
          kill: () => {
            one.isKilled = true
          },
        }
      },
    })
  })

  it('gives options without secrets, and the next one the same port and no new set-up code', async () => {
    const opening = keeper.open()
    serve()
    expect(await opening).toBe('http://127.0.0.1:4321')
    expect(newest().got).toMatchObject([{ kind: 'start', options: { httpPort: 0, newSetupCode: true } }])
    expect(JSON.stringify(newest().got)).not.toContain('secret')
    newest().ended('signal SIGKILL')
    expect(followed).toBe(0)
    clock.advance(250)
    serve()
    expect(newest().got).toMatchObject([{ options: { httpPort: 4321, newSetupCode: false } }])
    expect(told).toEqual([
      'The page side ended (signal SIGKILL). The watch goes on; the page comes back in 0.25 s.',
    ])
  })

  it('gives the certificate of the day to each page side, and a new one to that which serves', async () => {
    void keeper.open()
    serve()
    expect(newest().got).toMatchObject([{ kind: 'start', options: { certificate: { cert: 'first' } } }])
    pair = { cert: 'second', key: 'second key' }
    renew(pair)
    expect(newest().got.at(-1)).toEqual({ kind: 'certificate', pair })
    newest().ended('signal SIGKILL')
    clock.advance(250)
    serve()
    expect(newest().got).toMatchObject([{ kind: 'start', options: { certificate: pair } }])
  })

  it('starts the process at once, and lets it serve when the rest is ready', async () => {
    newest().message({ kind: 'here' })
    expect(newest().got).toEqual([])
    void keeper.open()
    expect(newest().got).toMatchObject([{ kind: 'start' }])
    expect(launched).toHaveLength(1)
  })

  it('waits longer each time one ends soon, at most 4 s, and anew after one that has served for 10 s', () => {
    void keeper.open()
    serve()
    const pauses = Array.from({ length: 7 }, () => {
      newest().ended('exit code 1')
      const before = launched.length
      let waited = 0
      while (launched.length === before) {
        clock.advance(250)
        waited += 250
      }
      serve()
      return waited
    })
    expect(pauses).toEqual([250, 500, 1000, 2000, 2000, 2000, 2000])
    clock.advance(10_000)
    newest().ended('exit code 1')
    expect(told.at(-1)).toContain('comes back in 0.25 s')
  })

  it('refuses the start in the words of the page side', async () => {
    const first = keeper.open()
    newest().message({ kind: 'refused', sentence: 'Port 80 is already in use.' })
    await expect(first).rejects.toThrow('Port 80 is already in use.')
  })

  it('refuses the start where the page side ends before it serves', async () => {
    const opening = keeper.open()
    newest().ended('exit code 1')
    await expect(opening).rejects.toThrow('The page side could not be started (exit code 1).')
  })

  it('goes on without one that is refused later, and tries again', () => {
    void keeper.open()
    serve()
    newest().ended('signal SIGKILL')
    clock.advance(250)
    newest().message({ kind: 'refused', sentence: 'Port 4321 is already in use.' })
    expect(told.at(-1)).toBe('Port 4321 is already in use. The watch goes on; it is tried again.')
    expect(newest().isKilled).toBe(true)
  })

  it('ends one that takes nothing in for a minute', () => {
    void keeper.open()
    serve()
    clock.advance(55_000)
    newest().message({ kind: 'taken', tick: 1 })
    clock.advance(55_000)
    expect(newest().isKilled).toBe(false)
    clock.advance(5000)
    expect(newest().isKilled).toBe(true)
  })

  it('answers what is asked, and refuses what it does not know', async () => {
    void keeper.open()
    serve()
    const asked = { channel: 'mail' }
    newest().message({ kind: 'question', id: 1, question: 'enableChannel', asked })
    newest().message({ kind: 'question', id: 2, question: 'toString' as never, asked })
    await expect.poll(() => newest().got.length).toBe(3)
    expect(newest().got).toContainEqual({ kind: 'answer', id: 1, outcome: DONE })
    expect(newest().got).toContainEqual({
      kind: 'answer',
      id: 2,
      outcome: expect.objectContaining({ ok: false }),
    })
  })

  it('asks one to end, ends it after five seconds, and starts none after it', async () => {
    void keeper.open()
    serve()
    const closing = keeper.close()
    expect(newest().got.at(-1)).toEqual({ kind: 'close' })
    clock.advance(5000)
    expect(newest().isKilled).toBe(true)
    newest().ended('signal SIGKILL')
    await closing
    clock.advance(60_000)
    expect(launched).toHaveLength(1)
  })
})
