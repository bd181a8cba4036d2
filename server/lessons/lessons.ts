import type { IncomingMessage } from 'node:http'
import type { Clock } from '../clock.ts'
import { accuracyWords } from '../derive/explain.ts'
import type { ShownPlant } from '../mirror/shownPlant.ts'
import { granted, NOT_STORED, type Outcome, refuse } from '../outcome.ts'
import { plainAlarm } from '../push/conceal.ts'
import type { Hub } from '../push/hub.ts'
import type { Scene } from '../push/scene.ts'
import type { State } from '../state/openState.ts'
import type { Trials } from '../trials/trials.ts'
import { VERSION } from '../version.ts'
import type { AlarmView } from '../wire/alarm.ts'
import type { LessonSummary } from '../wire/lesson.ts'
import type { QueueHealth } from '../wire/replies.ts'
import { createDesk, type Desk } from './desk.ts'
import { createEntrance, type Joined, type JoinWish } from './entrance.ts'
import { createGroupActions, type GroupActions } from './groupActions.ts'
import { makeLessonCode } from './joining.ts'
import { lessonSceneId } from './lessonScene.ts'
import { createLessonStore, type Seat } from './lessonStore.ts'
import { createLessonUnderWay, type LessonUnderWay } from './lessonUnderWay.ts'
import { packLesson } from './packLesson.ts'
import { createRecordStore } from './recordStore.ts'
import { createSeats, type Seats } from './seats.ts'

/** Lessons that may go on at once. */
export const MOST_LESSONS = 8
/** A lesson ends by itself after this long [ms]. */
export const LONGEST_MS = 12 * 3_600_000
const MOST_SHOWN = 200
const SWEEP_MS = 30_000

/** Lessons: who takes part, what is shown, and what groups mark. */
export interface Lessons {
  seats: Seats
  /** For the hub, by the id of the scene. */
  scene(id: string): Scene | undefined
  /** Whether a phone may watch this scene: that of its own lesson, while it lasts. */
  mayWatch(request: IncomingMessage, scene: string): boolean
  /** Makes lessons follow what is shown; call once, when the hub is there. */
  attach(hub: Hub): void
  /** An alarm changed at a plant: what is for safety goes to its lessons at once. */
  alarm(plant: string, alarm: AlarmView): void
  plantChanged(plant: string): void
  open(live: ShownPlant, title: string, by: string): Outcome<{ lesson: number }>
  list(plant: string): LessonSummary[]
  join(wish: JoinWish, before: Seat | undefined): Joined
  desk: Desk
  groups: GroupActions
  /** A zip of one group, or of all. */
  pack(lesson: number, group?: number): Promise<Outcome<{ zip: Uint8Array; name: string }>>
  queues(): QueueHealth[]
  close(): void
}

export interface LessonsOptions {
  state: State
  clock: Clock
  plants: () => ReadonlyMap<string, ShownPlant>
  trials: Pick<Trials, 'underWay'>
}

export function createLessons({ state, clock, plants, trials }: LessonsOptions): Lessons {
  const store = createLessonStore(state)
  const records = createRecordStore(state)
  const under = new Map<number, LessonUnderWay>()
  for (const id of store.under()) goOn(id)
  const seats = createSeats(store, {
    endedAt: (lesson) => (under.has(lesson) ? null : store.lesson(lesson)?.summary.endedAt),
    now: clock.now,
  })
  const stop = clock.every(SWEEP_MS, sweep)
  let hub: Hub | undefined
  let stopFollowing = () => {}

  function goOn(id: number): void {
    const stored = store.lesson(id)!
    const { plant } = stored.summary
    const sceneOf = (scene: string) => (scene === plant ? undefined : hub?.scene(scene))
    under.set(id, createLessonUnderWay({ stored, store, records, plants, clock, sceneOf }))
  }

  function end(id: number): boolean {
    if (!store.end(id, clock.now())) return false
    under.delete(id)
    hub?.plantChanged(lessonSceneId(id))
    seats.ended(id)
    return true
  }

  function sweep(): void {
    for (const { id, endsAt } of under.values()) if (clock.now() >= endsAt) end(id)
    seats.sweep()
  }

  /** Sends everything anew: settings changed, not only figures. */
  function showAll(lesson: LessonUnderWay): void {
    lesson.take()
    const scene = lesson.scene.scene()
    if (scene) hub?.show(scene, { figures: scene.view.figures.map((_, index) => index), alarms: [] })
  }

  function follow(scene: Scene, figures: readonly number[], alarms: readonly AlarmView[]): void {
    for (const lesson of under.values()) {
      const isSource = lesson.scene.source()?.id === scene.id
      const isPlant = lesson.plant === scene.id
      const own = isSource || isPlant ? lesson.scene.scene() : undefined
      if (!own) continue
      if (isSource) lesson.take()
      const isFrozen = lesson.arrangement().frozen !== null
      const isHiding = lesson.scene.concealed().size > 0
      hub?.show(own, {
        figures: isSource && !isFrozen ? figures : [],
        alarms: isPlant
          ? alarms.filter((one) => one.isForSafety).map((alarm) => plainAlarm(alarm, isHiding))
          : [],
      })
    }
  }

  const entrance = createEntrance({ store, seats, under, clock, showAll })
  const shared = { store, records, seats, under, plants, trials, clock, showAll }
  return {
    seats,
    scene: (id) => [...under.values()].find((one) => lessonSceneId(one.id) === id)?.scene.scene(),
    mayWatch(request, scene) {
      const seat = seats.of(request)
      return seat !== undefined && under.has(seat.lesson) && scene === lessonSceneId(seat.lesson)
    },
    attach(given) {
      hub = given
      stopFollowing = hub.follow((scene, { figures, alarms }) => follow(scene, figures, alarms))
    },
    alarm(plant, alarm) {
      if (!alarm.isForSafety) return
      for (const lesson of under.values())
        if (lesson.plant === plant)
          hub?.alarm(lessonSceneId(lesson.id), plainAlarm(alarm, lesson.scene.concealed().size > 0))
    },
    plantChanged(plant) {
      for (const lesson of under.values())
        if (lesson.plant === plant) hub?.plantChanged(lessonSceneId(lesson.id))
    },
    open(live, title, by) {
      if (under.size >= MOST_LESSONS) return TOO_MANY_LESSONS
      const at = clock.now()
      const { id: plant, name: plantName } = live.plant
      const id = store.open({
        plant,
        plantName,
        title,
        at,
        by,
        code: freeCode(under),
        endsAt: at + LONGEST_MS,
        arrangement: {
          source: plant,
          numbers: live.view.keyFigures.slice(0, 6),
          hidden: [],
          alongside: [],
          explained: null,
          frozen: null,
          isClosed: false,
        },
        method: methodOf(live),
      })
      if (id === undefined) return NOT_STORED
      goOn(id)
      showAll(under.get(id)!)
      return granted({ lesson: id })
    },
    list: (plant) => store.list(plant, MOST_SHOWN),
    join: entrance.join,
    desk: createDesk({
      ...shared,
      freeCode: () => freeCode(under),
      end,
      isSceneOf: (scene, plant) => scene === plant || hub?.scene(scene)?.stamp()?.plant === plant,
    }),
    groups: createGroupActions(shared),
    async pack(lesson, group) {
      const stored = store.lesson(lesson)
      if (!stored) return refuse(404, `There is no lesson ${lesson}.`)
      const zip = await packLesson({ stored, store, records, ...(group === undefined ? {} : { group }) })
      const part = group === undefined ? '' : `-group-${group}`
      return granted({ zip, name: `${stored.summary.plant}-lesson-${lesson}${part}.zip` })
    },
    queues: entrance.queues,
    close() {
      stop()
      stopFollowing()
    },
  }
}

function freeCode(under: ReadonlyMap<number, LessonUnderWay>): string {
  for (;;) {
    const code = makeLessonCode()
    if ([...under.values()].every((one) => one.code() !== code)) return code
  }
}

function methodOf(live: ShownPlant): string[] {
  return [
    ...live.plant.instruments.map(
      (one) => `${one.name} (${one.id}, ${one.unit.code}): ${accuracyWords(one)}`,
    ),
    'Steady: over 20 s the scatter and the movement of speed stay within 0.5 %, of net head within 1 %, of discharge and active power within 1.5 %.',
    'U95 is the half-width of the 95 % coverage interval from the accuracy of the instruments.',
    `Headrace ${VERSION}`,
  ]
}

const TOO_MANY_LESSONS = refuse(409, `${MOST_LESSONS} lessons are open, which is all at once. End one first.`)
