import type { QueueHealth } from './wire/replies.ts'

export interface TurnLimits {
  /** For health. */
  name: string
  /** Tasks under way of all together. */
  atOnce: number
  /** Tasks that wait, of all together. */
  waiting: number
  /** Tasks of one asker that are under way, and that wait besides. Left out: as many as of all. */
  each?: { underWay: number; waiting: number }
  /** For whoever is refused because too much of all waits. */
  full: string
}

/** Whose task it is: decides who comes first. */
export interface Place {
  /** Those that count as one: a person, a browser, or a network. */
  from: string
  /** Comes before all who are not known: a browser in which this person signed in before. */
  isKnown: boolean
}

/**
 * Costly tasks, few at once: whoever asks for much waits for their own, and the others not for them. When too much waits,
 * the last task of whoever waits for most is given up, of those who are not known if there are any.
 */
export interface Turns {
  /**
   * Does `task` when it is the turn of who asks; turns go round by askers, not by tasks. Rejects as the task does.
   * @throws {Busy} where too much waits.
   */
  take<T>(task: () => Promise<T>, place?: Place): Promise<T>
  queue(): QueueHealth
}

/** Too much waits already; the sentence is for the person who asked. */
export class Busy extends Error {
  override name = 'Busy'
  /** For HTTP. */
  readonly status: 429 | 503

  constructor(sentence: string, status: 429 | 503 = 503) {
    super(sentence)
    this.status = status
  }
}

interface Asker extends Place {
  underWay: number
  waiting: { begin(): void; giveUp(): void }[]
}

const NOWHERE: Place = { from: '', isKnown: false }
const OWN_WAIT =
  'Too many of your questions wait for an answer already. Ask again when some of them are answered.'

export function createTurns(limits: TurnLimits): Turns {
  const each = limits.each ?? { underWay: limits.atOnce, waiting: Number.POSITIVE_INFINITY }
  /** Whose turn ended last comes last. */
  const askers = new Map<string, Asker>()
  let underWay = 0
  let waiting = 0
  let dropped = 0

  function next(): void {
    while (underWay < limits.atOnce) {
      const ready = [...askers.values()].filter(
        (one) => one.waiting.length > 0 && one.underWay < each.underWay,
      )
      const asker = ready.find((one) => one.isKnown) ?? ready[0]
      if (!asker) return
      asker.underWay++
      underWay++
      waiting--
      asker.waiting.shift()!.begin()
    }
  }

  function leave(asker: Asker): void {
    asker.underWay--
    underWay--
    askers.delete(asker.from)
    if (asker.underWay > 0 || asker.waiting.length > 0) askers.set(asker.from, asker)
    next()
  }

  function giveUpLast(): void {
    const asker = [...askers.values()]
      .filter((one) => one.waiting.length > 0)
      .sort((a, b) => Number(b.isKnown) - Number(a.isKnown) || a.waiting.length - b.waiting.length)
      .at(-1)!
    waiting--
    dropped++
    asker.waiting.pop()!.giveUp()
    if (asker.underWay === 0 && asker.waiting.length === 0) askers.delete(asker.from)
  }

  return {
    take: (task, place = NOWHERE) =>
      new Promise((resolve, reject) => {
        const asker = askers.get(place.from) ?? { ...place, underWay: 0, waiting: [] }
        if (asker.underWay + asker.waiting.length >= each.underWay + each.waiting) {
          dropped++
          return reject(new Busy(OWN_WAIT, 429))
        }
        async function begin(): Promise<void> {
          try {
            resolve(await task())
          } catch (error) {
            reject(error)
          } finally {
            leave(asker)
          }
        }
        askers.set(place.from, asker)
        waiting++
        asker.waiting.push({ begin, giveUp: () => reject(new Busy(limits.full)) })
        next()
        if (waiting > limits.waiting) giveUpLast()
      }),
    queue: () => ({
      name: limits.name,
      length: waiting,
      limit: limits.waiting,
      policy: `in turn, by who asks${limits.each ? `; of each ${each.underWay} at once and ${each.waiting} waiting, more are refused` : ''}; when full, the last of whoever waits for most is refused`,
      dropped,
    }),
  }
}
