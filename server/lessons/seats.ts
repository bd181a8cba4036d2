import type { IncomingMessage } from 'node:http'
import { hashSecret, makeToken } from '../access/codes.ts'
import { SEAT_COOKIE } from '../access/visitor.ts'
import { createListeners } from '../listeners.ts'
import type { LessonStore, Seat } from './lessonStore.ts'

/** How long [ms] a phone can read its own records after the lesson. */
export const AFTER_MS = 24 * 3_600_000

/** Phones in one lesson. */
export const MOST_SEATS = 200

export interface LessonTimes {
  /** Null while the lesson goes on, undefined for a lesson that is not known. */
  endedAt(lesson: number): number | null | undefined
  now(): number
}

/** The phones of all lessons. A seat is no person: it has a group, and nothing else is known of who holds it. */
export interface Seats {
  of(request: IncomingMessage): Seat | undefined
  /** The lesson of the seat goes on: until it ends, this browser is nothing but a phone in it. */
  isConfined(request: IncomingMessage): boolean
  /** Returns the token for the cookie; undefined when the disk refused it. */
  take(lesson: number, group: number): string | undefined
  leave(key: string): boolean
  count(lesson: number, group?: number): number
  /** Takes the seats of a removed group out of memory; the store has done so. */
  dropGroup(lesson: number, group: number): void
  /** Tells that the lesson of these seats is over. */
  ended(lesson: number): void
  /** Called with the key of every seat that may watch no longer. */
  onEnded(listener: (key: string) => void): () => void
  /** Forgets the seats of lessons that are over for long; call now and then. */
  sweep(): void
}

export function createSeats(store: LessonStore, { endedAt, now }: LessonTimes): Seats {
  const held = new Map(store.seats().map((seat) => [seat.key, seat]))
  const over = createListeners<string>()
  const at = (lesson: number, group?: number) =>
    [...held.values()].filter(
      (seat) => seat.lesson === lesson && (group === undefined || seat.group === group),
    )

  function isOver({ lesson }: Seat): boolean {
    const ended = endedAt(lesson)
    return ended === undefined || (ended !== null && now() - ended > AFTER_MS)
  }

  function find(request: IncomingMessage): Seat | undefined {
    const token = SEAT_COOKIE.read(request)
    const seat = token === undefined ? undefined : held.get(hashSecret(token))
    return seat && !isOver(seat) ? seat : undefined
  }

  function leave(key: string): boolean {
    if (!store.leaveSeat(key)) return false
    held.delete(key)
    over.call(key)
    return true
  }

  return {
    of: find,
    isConfined(request) {
      const seat = find(request)
      return seat !== undefined && endedAt(seat.lesson) === null
    },
    take(lesson, group) {
      const token = makeToken()
      const seat = { key: hashSecret(token), lesson, group }
      if (!store.takeSeat(seat, now())) return undefined
      held.set(seat.key, seat)
      return token
    },
    leave,
    count: (lesson, group) => at(lesson, group).length,
    dropGroup(lesson, group) {
      for (const { key } of at(lesson, group)) {
        held.delete(key)
        over.call(key)
      }
    },
    ended(lesson) {
      for (const { key } of at(lesson)) over.call(key)
    },
    onEnded: over.add,
    sweep() {
      for (const seat of held.values()) if (isOver(seat)) leave(seat.key)
    },
  }
}
