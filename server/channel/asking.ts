import type { Clock } from '../clock.ts'
import { type Outcome, refuse } from '../outcome.ts'
import type { QueueHealth } from '../wire/replies.ts'
import type { ToWatch } from './messages.ts'
import type { Ask, Question } from './questions.ts'

/** Brings questions to the watch, each in its lane. */
export interface Asking {
  ask: Ask
  onAnswer(id: number, outcome: Outcome<unknown>): void
  queue(): QueueHealth
}

/** What people do and what they look at must not hold each other up. */
type Lane = 'deeds' | 'looks'

/** Questions under way at once, and how many may wait. The watch answers few of them between two readings. */
const LIMITS: Record<Lane, { underWay: number; waiting: number; patienceMs: number }> = {
  deeds: { underWay: 4, waiting: 64, patienceMs: 5000 },
  looks: { underWay: 2, waiting: 128, patienceMs: 5000 },
}

const LANES: Record<Question, Lane> = {
  act: 'deeds',
  acknowledgeEpisode: 'deeds',
  command: 'deeds',
  verdict: 'looks',
  testMessage: 'deeds',
  enableChannel: 'deeds',
  addBrowser: 'deeds',
  acknowledge: 'deeds',
  ackView: 'looks',
  counters: 'looks',
  indices: 'looks',
  counterDays: 'looks',
  health: 'looks',
  notifications: 'looks',
}

interface Asked {
  id: number
  question: Question
  asked: unknown
  resolve(outcome: Outcome<unknown>): void
  stopWaiting(): void
}

export function createAsking({ post, clock }: { post: (message: ToWatch) => void; clock: Clock }): Asking {
  const underWay = new Map<number, Asked>()
  const waiting: Record<Lane, Asked[]> = { deeds: [], looks: [] }
  /** Those who look at the same at the same moment share one question. */
  const shared = new Map<string, Promise<Outcome<unknown>>>()
  let nextId = 1
  let refused = 0

  const countUnderWay = (lane: Lane) =>
    [...underWay.values()].filter(({ question }) => LANES[question] === lane).length

  function next(lane: Lane): void {
    while (waiting[lane].length > 0 && countUnderWay(lane) < LIMITS[lane].underWay) {
      const one = waiting[lane].shift()!
      underWay.set(one.id, one)
      post({ kind: 'question', id: one.id, question: one.question, asked: one.asked })
    }
  }

  function settle(one: Asked, outcome: Outcome<unknown>): void {
    one.stopWaiting()
    underWay.delete(one.id)
    const lane = LANES[one.question]
    waiting[lane] = waiting[lane].filter((other) => other !== one)
    one.resolve(outcome)
    next(lane)
  }

  function put(question: Question, asked: unknown): Promise<Outcome<unknown>> {
    const lane = LANES[question]
    if (waiting[lane].length >= LIMITS[lane].waiting) {
      refused++
      return Promise.resolve(TOO_MANY)
    }
    return new Promise((resolve) => {
      const one: Asked = { id: nextId++, question, asked, resolve, stopWaiting: () => {} }
      waiting[lane].push(one)
      one.stopWaiting = clock.after(LIMITS[lane].patienceMs, () => settle(one, lateFor(lane)))
      next(lane)
    })
  }

  function look(question: Question, asked: unknown): Promise<Outcome<unknown>> {
    const key = `${question} ${JSON.stringify(asked)}`
    const known = shared.get(key)
    if (known) return known
    const asking = put(question, asked)
    shared.set(key, asking)
    void asking.then(() => shared.delete(key))
    return asking
  }

  return {
    ask: ((question, asked) =>
      LANES[question] === 'looks' ? look(question, asked) : put(question, asked)) as Ask,
    onAnswer(id, outcome) {
      const one = underWay.get(id)
      if (one) settle(one, outcome)
    },
    queue: () => ({
      name: 'questions of the page side to the watch',
      length: underWay.size + Object.values(waiting).reduce((sum, lane) => sum + lane.length, 0),
      limit: Object.values(LIMITS).reduce((sum, lane) => sum + lane.underWay + lane.waiting, 0),
      policy: 'what is too many of a kind is refused and counted; one without an answer is given up in time',
      dropped: refused,
    }),
  }
}

const TOO_MANY = refuse(503, 'Too much is being asked of the watch. Try again in two seconds.')

function lateFor(lane: Lane): Outcome<unknown> {
  const late = `The watch did not answer within ${LIMITS[lane].patienceMs / 1000} s.`
  return refuse(503, lane === 'deeds' ? `${late} It may have been done: look before you try again.` : late)
}
