import { describe, expect, it } from 'vitest'
import type { RecordRequest, RecordView } from '../../server/wire/lesson.ts'
import type { Answer } from '../../web/connect/http.ts'
import { createPressQueue, MOST_PRESSES } from '../../web/connect/pressQueue.ts'
import { repeatsOf } from '../../web/hold/repeats.ts'
import { stripDots } from '../../web/plot/dotStrip.ts'
import { readNumber } from '../../web/view/lessons/phoneQuestion.tsx'

describe('the queue of presses on a phone', () => {
  function phone(first: string | null = null) {
    let stored = first
    let now = 1_000_000
    let key = 0
    const sent: RecordRequest[] = []
    const answers: Answer<{ number: number }>[] = []
    const numbers: number[] = []
    const open = () =>
      createPressQueue({
        load: () => stored,
        save: (text) => {
          stored = text
        },
        ask: async (wish) => {
          sent.push(wish)
          return answers.shift() ?? DEAD
        },
        onStored: (number) => numbers.push(number),
        now: () => now,
        newKey: () => `key-${++key}`,
      })
    return { open, sent, answers, numbers, wait: (ms: number) => (now += ms), stored: () => stored }
  }
  const DEAD = { ok: false, reached: false, error: 'The server did not answer.' } as const
  const stored = (number: number) => ({ ok: true, reply: { number } }) as const

  it('keeps a press that the network lost, also through a reload, and sends it with its age and the same key', async () => {
    const one = phone()
    const queue = one.open()
    await queue.press('')
    expect(queue.waiting.value).toMatchObject([{ key: 'key-1', refused: null }])
    one.wait(40_000)
    const reloaded = one.open()
    one.answers.push(stored(7))
    await reloaded.send()
    expect(one.sent).toEqual([
      { key: 'key-1', ageMs: 0 },
      { key: 'key-1', ageMs: 40_000 },
    ])
    expect(one.numbers).toEqual([7])
    expect(reloaded.waiting.value).toEqual([])
    expect(one.stored()).toBe('[]')
  })

  it('sends in order, and stops at the first that the network loses', async () => {
    const one = phone()
    const queue = one.open()
    await queue.press('')
    await queue.press('noisy')
    one.answers.push(stored(1), DEAD)
    await queue.send()
    expect(queue.waiting.value.map(({ key }) => key)).toEqual(['key-2'])
    expect(one.sent.at(-1)).toEqual({ key: 'key-2', ageMs: 0, remark: 'noisy' })
  })

  it('keeps a refused press in view until it is dismissed, and goes on with the others', async () => {
    const one = phone()
    const queue = one.open()
    await queue.press('')
    one.answers.push({ ok: false, reached: true, error: 'It came too late.' }, stored(2))
    await queue.press('')
    expect(queue.waiting.value).toMatchObject([{ key: 'key-1', refused: 'It came too late.' }])
    expect(one.numbers).toEqual([2])
    queue.dismiss('key-1')
    expect(queue.waiting.value).toEqual([])
  })

  it('takes no more than it can keep, and says so', async () => {
    const queue = phone().open()
    for (let i = 0; i < MOST_PRESSES; i++) expect(await queue.press('')).toBeNull()
    expect(await queue.press('')).toMatch(/50 presses wait/)
    expect(queue.waiting.value).toHaveLength(MOST_PRESSES)
  })

  it.each(['{', 'null', '[1, null, {"key": 3}]'])('begins empty where the storage holds %s', (text) => {
    expect(phone(text).open().waiting.value).toEqual([])
  })
})

describe('repeatsOf', () => {
  const record = (number: number, setting: string, value: number | null, struck: string | null = null) =>
    ({ number, setting, struck, figures: [{ id: 'speed', value, quality: 'good' }] }) as unknown as RecordView

  it('gives mean and sample deviation by setting, without what was struck out (by hand)', () => {
    const rows = [
      record(4, 'jets 1', 9, 'wrong jet'),
      record(3, 'jets 1', 6),
      record(2, 'jets 1, 2', 5),
      record(1, 'jets 1', 2),
      record(5, 'jets 1', 4),
      record(6, 'jets 1', null),
    ]
    // 2, 6, 4: mean 4, s = √((4 + 4 + 0) / 2) = 2
    expect(repeatsOf(rows, 'speed')).toEqual([
      { setting: 'jets 1', values: [2, 6, 4], mean: 4, deviation: 2 },
      { setting: 'jets 1, 2', values: [5], mean: 5, deviation: null },
    ])
  })
})

describe('stripDots', () => {
  it('stacks dots that would hide one another, and keeps the marks on the strip', () => {
    const { dots, low, high } = stripDots([1, 1, 1, 2], [0, 3], 0.05)
    expect(dots.map(({ level }) => level)).toEqual([0, 1, 2, 0])
    expect(dots.every(({ share }) => share > 0 && share < 1)).toBe(true)
    expect(low).toBeLessThan(0)
    expect(high).toBeGreaterThan(3)
  })

  it('has room round a single value', () => {
    expect(stripDots([5], [5, 5], 0.05).dots[0]!.share).toBeCloseTo(0.5, 6)
  })
})

describe('a typed prediction', () => {
  it.each([
    ['0.7', 0.7],
    [' 70,5 ', 70.5],
    ['\u22123', -3],
    ['', null],
    ['many', undefined],
  ])('%j is read as %j', (typed, expected) => {
    expect(readNumber(typed)).toBe(expected)
  })
})
