import { createLockOut, type Rule } from '../access/lockOut.ts'
import { createAllowances, type Rate } from '../allowance.ts'
import type { Clock } from '../clock.ts'
import { networkOf } from '../hosts.ts'
import { granted, NOT_STORED, type Outcome, refuse } from '../outcome.ts'
import type { QueueHealth } from '../wire/replies.ts'
import { makeGroupWord, readLessonCode } from './joining.ts'
import type { LessonStore, Seat } from './lessonStore.ts'
import type { LessonUnderWay } from './lessonUnderWay.ts'
import { MOST_SEATS, type Seats } from './seats.ts'

export const MOST_GROUPS = 40

/** A whole class comes from one address at once; after that nobody fills the lesson in a minute. */
const PHONES: Rate = { perSecond: 0.5, burst: 60 }
const GROUPS: Rate = { perSecond: 0.1, burst: 20 }

/**
 * Many may stand behind one address, so wrong codes of some do not keep the others out: the right one is taken at once
 * until 200 were wrong in half an hour, and after that within 10 s. Of 13 million codes less than one in 2000 is tried in
 * a day.
 */
const CODE_RULES: readonly Rule[] = [{ key: ({ address }) => address, free: 200, longestMs: 10_000 }]
/** Words of one group, of 216,000 each. */
const WORD_RULES: readonly Rule[] = [
  { key: ({ name, address }) => `${name} ${address}`, free: 5, longestMs: 60_000 },
]

export interface JoinWish {
  code: string
  group: string
  /** That the first phone of the group shows. */
  word?: string
  address: string
}

export type Joined = Outcome<{ token: string | null; lesson: number; group: number }>

/** How a phone gets a seat. */
export interface Entrance {
  join(wish: JoinWish, before: Seat | undefined): Joined
  queues(): QueueHealth[]
}

export interface EntranceParts {
  store: LessonStore
  seats: Seats
  under: ReadonlyMap<number, LessonUnderWay>
  clock: Clock
  showAll: (lesson: LessonUnderWay) => void
}

export function createEntrance({ store, seats, under, clock, showAll }: EntranceParts): Entrance {
  const codes = createLockOut(clock.mono, CODE_RULES)
  const words = createLockOut(clock.mono, WORD_RULES)
  const phones = createAllowances('new phones in lessons', PHONES, clock.mono)
  const groups = createAllowances('new groups in lessons', GROUPS, clock.mono)

  function lessonOf({ code, address }: JoinWish): Outcome<LessonUnderWay> {
    const typed = readLessonCode(code)
    const attempt = { name: '', address }
    const waitMs = codes.waitMs(attempt)
    if (waitMs > 0) return tooMany(waitMs)
    const lesson = [...under.values()].find((one) => one.code() === typed)
    if (lesson) return granted(lesson)
    codes.failed(attempt)
    return WRONG_CODE
  }

  /** Number of the group of this name, made where there is none; into one that is there only with its word. */
  function groupFor(lesson: number, { group: name, word = '', address }: JoinWish): Outcome<number> {
    const known = store.groups(lesson)
    const same = known.find((one) => one.name.toLowerCase() === name.toLowerCase())
    if (same) {
      const attempt = { name: `${lesson} ${same.number}`, address: networkOf(address) }
      const waitMs = words.waitMs(attempt)
      if (waitMs > 0) return tooMany(waitMs)
      if (word.toLowerCase().replace(/[^a-z]/g, '') === same.word) return granted(same.number)
      if (word !== '') words.failed(attempt)
      return refuse(409, needsWord(same.name))
    }
    if (known.length >= MOST_GROUPS) return TOO_MANY_GROUPS
    if (!groups.take(networkOf(address))) return TOO_FAST
    const number = store.allGroups(lesson).length + 1
    return store.addGroup(lesson, { number, name, word: makeGroupWord() }) ? granted(number) : NOT_STORED
  }

  return {
    join(wish, before) {
      const found = lessonOf(wish)
      if (!found.ok) return found
      const lesson = found.value
      if (before?.lesson === lesson.id)
        return granted({ token: null, lesson: lesson.id, group: before.group })
      if (lesson.arrangement().isClosed) return CLOSED
      if (seats.count(lesson.id) >= MOST_SEATS) return FULL
      if (!phones.take(networkOf(wish.address))) return TOO_FAST
      const group = groupFor(lesson.id, wish)
      if (!group.ok) return group
      const token = seats.take(lesson.id, group.value)
      if (token === undefined) return NOT_STORED
      if (before) seats.leave(before.key)
      lesson.touch()
      showAll(lesson)
      return granted({ token, lesson: lesson.id, group: group.value })
    },
    queues: () => [
      { ...codes.queue(), name: 'addresses with wrong lesson codes', policy: POLICY },
      { ...words.queue(), name: 'addresses with wrong words of groups', policy: POLICY },
      phones.queue(),
      groups.queue(),
    ],
  }
}

const POLICY = 'each waits longer after every wrong one; the oldest is forgotten and counted'

function needsWord(group: string): string {
  return `There is a group "${group}" already. Type the word that its first phone shows, or choose another name.`
}

function tooMany(waitMs: number) {
  const seconds = Math.ceil(waitMs / 1000)
  return refuse(429, `Too many wrong codes or words from here. Try again in ${seconds} s.`, {
    retryAfterS: seconds,
  })
}

const WRONG_CODE = refuse(
  401,
  'No lesson has this code. Look at the screen again: a lesson that is over has none.',
)
const FULL = refuse(
  409,
  `This lesson has ${MOST_SEATS} phones, which is all it takes. Share one with your group.`,
)
const TOO_MANY_GROUPS = refuse(
  409,
  `This lesson has ${MOST_GROUPS} groups, which is all it takes. Join one of them.`,
)
const CLOSED = refuse(409, 'Nobody can join this lesson just now. Ask whoever gives it to open joining.')
const TOO_FAST = refuse(429, 'Many have joined from here within a minute. Try again in 10 s.', {
  retryAfterS: 10,
})
