import {
  DONE,
  doneIf,
  granted,
  NOT_STORED,
  noFigure,
  type Outcome,
  type Refusal,
  refuse,
} from '../outcome.ts'
import { leadsOf, lookAlikes } from '../push/conceal.ts'
import { qrPath } from '../qrPath.ts'
import type { ExplainReply } from '../wire/explain.ts'
import type { ArrangeRequest, DeskReply, PointName, Truth } from '../wire/lesson.ts'
import type { JoinAddresses } from './joining.ts'
import type { LessonParts, LessonUnderWay } from './lessonUnderWay.ts'
import { questionsOf } from './predictions.ts'
import { MOST_SEATS } from './seats.ts'

/** What the instructor does with a lesson. */
export interface Desk {
  view(lesson: number, join: JoinAddresses): Outcome<DeskReply>
  arrange(lesson: number, wish: ArrangeRequest): Outcome<null>
  freeze(lesson: number, isFrozen: boolean): Outcome<null>
  ask(lesson: number, question: { text: string; figure: string }): Outcome<null>
  closeQuestion(lesson: number, question: number): Outcome<null>
  /** With the figure at this moment, or that of a captured point of the guided run. */
  reveal(lesson: number, question: number, point?: PointName): Outcome<null>
  rename(lesson: number, group: number, name: string): Outcome<null>
  remove(lesson: number, group: number): Outcome<null>
  /** Nobody can join while it is closed; who has joined stays. */
  openJoining(lesson: number, isOpen: boolean): Outcome<null>
  /** The one before opens nothing any more. */
  renewCode(lesson: number): Outcome<null>
  /** Takes back that a group struck a record out. */
  unstrike(lesson: number, record: number): Outcome<null>
  end(lesson: number): Outcome<null>
  explain(lesson: number, figure: string): Outcome<ExplainReply>
}

export interface DeskOptions extends LessonParts {
  end: (lesson: number) => boolean
  /** A code that no lesson has. */
  freeCode: () => string
  isSceneOf: (scene: string, plant: string) => boolean
}

const MOST_NUMBERS = 6
const MOST_QUESTIONS = 100

export function createDesk(options: DeskOptions): Desk {
  const { store, records, seats, under, plants, trials, clock, showAll } = options

  /** Runs a deed on a lesson that goes on; phones hear of it when it was done. */
  function on(id: number, deed: (lesson: LessonUnderWay) => Outcome<null>): Outcome<null> {
    const lesson = under.get(id)
    if (!lesson) return missing(id)
    const done = deed(lesson)
    if (done.ok) {
      lesson.touch()
      showAll(lesson)
    }
    return done
  }

  function missing(id: number): Refusal {
    return store.lesson(id) ? ENDED : refuse(404, `There is no lesson ${id}.`)
  }

  function known(lesson: LessonUnderWay, figure: string): boolean {
    return plants().get(lesson.plant)?.plan.indexOf.has(figure) ?? false
  }

  function faultOf(lesson: LessonUnderWay, wish: ArrangeRequest): Refusal | undefined {
    const { numbers = [], hidden, explained, source } = wish
    const named = [...numbers, ...(hidden ?? []), ...(explained ? [explained] : [])]
    const unknown = named.find((figure) => !known(lesson, figure))
    if (unknown !== undefined) return noFigure(unknown)
    if (numbers.length > MOST_NUMBERS)
      return refuse(400, `At most ${MOST_NUMBERS} numbers fit on the screen.`)
    if (source !== undefined && !options.isSceneOf(source, lesson.plant))
      return refuse(404, `There is no scene "${source.slice(0, 64)}" of this plant.`)
    const question = lesson.question()
    if (hidden && question && question.state !== 'revealed' && !hidden.includes(question.figure))
      return refuse(
        409,
        `Question ${question.number} asks for a figure that this would show. Reveal it first.`,
      )
    return undefined
  }

  function truthOf(lesson: LessonUnderWay, figure: string, point?: PointName): Truth | Refusal {
    const moment = lesson.scene.moment()
    if (!point) {
      const now = lesson.scene.bare(figure)
      if (!now || now.value === null) return UNKNOWN_NOW
      const { value, u95 = null, at } = now
      return { value, u95, at, point: null, setting: moment?.setting ?? '' }
    }
    const run = trials.underWay(lesson.plant)
    const found = run?.run === point.run ? run.points.find((one) => one.number === point.number) : undefined
    const mean = found?.figures.find((one) => one.id === figure)
    if (!found || !mean)
      return refuse(404, `Point ${point.number} of run ${point.run} does not hold this figure.`)
    return { value: mean.mean, u95: mean.u95, at: found.at, point, setting: found.setting }
  }

  function view(id: number, join: JoinAddresses): Outcome<DeskReply> {
    const stored = store.lesson(id)
    if (!stored) return missing(id)
    const lesson = under.get(id)
    const run = trials.underWay(stored.summary.plant)
    const { source, hidden } = lesson?.arrangement() ?? stored.arrangement
    const question = lesson?.question()
    const predicted = new Set(
      question ? records.predictions(id, question.number).map(({ group }) => group) : [],
    )
    const counts = records.counts(id)
    const concealed = lesson?.scene.concealed() ?? new Set<string>()
    const plan = plants().get(stored.summary.plant)?.plan
    const [address, ...others] = lesson ? join.addresses.map((one) => `${one}/#/lesson/${lesson.code()}`) : []
    return granted({
      lesson: stored.summary,
      code: lesson?.code() ?? null,
      isClosed: lesson?.arrangement().isClosed ?? true,
      source,
      join: address === undefined ? null : { address, others, qr: qrPath(address) },
      joinNote: join.note,
      seats: seats.count(id),
      mostSeats: MOST_SEATS,
      groups: store.groups(id).map(({ number, name, word }) => ({
        number,
        name,
        word,
        phones: seats.count(id, number),
        records: counts.get(number) ?? 0,
        hasPredicted: predicted.has(number),
      })),
      struck: records
        .records(id)
        .flatMap(({ record: { number, groupName }, struck }) =>
          struck === null ? [] : [{ number, groupName, reason: struck }],
        ),
      hidden,
      alsoHidden: [...concealed].filter((figure) => !hidden.includes(figure)),
      leads: plan ? leadsOf(plan, concealed).filter((lead) => hidden.includes(lead.hidden)) : [],
      view: lesson?.scene.scene()?.stamp()?.lesson ?? null,
      questions: lesson?.questions() ?? questionsOf(records, id),
      points: (run?.points ?? []).map(({ number, setting }) => ({ run: run!.run, number, setting })),
    })
  }

  return {
    view,
    arrange: (id, wish) =>
      on(id, (lesson) => {
        const fault = faultOf(lesson, wish)
        if (fault) return fault
        // Another source has other figures: what is frozen is no part of it.
        const thawed = wish.source !== undefined && wish.source !== lesson.arrangement().source
        return doneIf(lesson.arrange({ ...wish, ...(thawed ? { frozen: null } : {}) }))
      }),
    freeze: (id, isFrozen) =>
      on(id, (lesson) => {
        const before = lesson.arrangement().frozen
        if (isFrozen === (before !== null)) return DONE
        const frozen = isFrozen ? lesson.scene.freeze() : null
        if (frozen === undefined) return NO_PLANT
        return doneIf(lesson.arrange({ frozen }))
      }),
    ask: (id, { text, figure }) =>
      on(id, (lesson) => {
        if (!known(lesson, figure)) return noFigure(figure)
        const last = lesson.question()
        if (last?.state === 'asked')
          return refuse(409, `Question ${last.number} is open. Reveal or close it first.`)
        const number = (last?.number ?? 0) + 1
        if (number > MOST_QUESTIONS) return refuse(409, `A lesson has at most ${MOST_QUESTIONS} questions.`)
        const { hidden } = lesson.arrangement()
        // Hidden first: if the second write fails, too much is hidden rather than too little.
        const alongside = lookAlikes(lesson.scene.source(), figure).filter((one) => !hidden.includes(one))
        const together = [...new Set([...hidden, figure, ...alongside])]
        if (!lesson.arrange({ hidden: together, alongside })) return NOT_STORED
        return doneIf(records.ask(id, { number, text, figure, at: clock.now() }))
      }),
    closeQuestion: (id, number) =>
      on(id, (lesson) => {
        if (lesson.question()?.number !== number) return NO_QUESTION
        return doneIf(records.close(id, number, clock.now()))
      }),
    reveal: (id, number, point) =>
      on(id, (lesson) => {
        const question = lesson.question()
        if (question?.number !== number) return NO_QUESTION
        if (question.state === 'revealed') return DONE
        const truth = truthOf(lesson, question.figure, point)
        if ('ok' in truth) return truth
        if (!records.reveal(id, number, { ...truth, revealedAt: clock.now() })) return NOT_STORED
        const { hidden, alongside } = lesson.arrangement()
        const shown = new Set([question.figure, ...alongside])
        const left = hidden.filter((figure) => !shown.has(figure))
        return doneIf(lesson.arrange({ hidden: left, alongside: [] }))
      }),
    rename: (id, group, name) =>
      on(id, () => {
        const groups = store.groups(id)
        if (!groups.some(({ number }) => number === group)) return NO_GROUP
        const other = groups.find(
          (one) => one.number !== group && one.name.toLowerCase() === name.toLowerCase(),
        )
        if (other) return refuse(409, `There is a group "${other.name}" already.`)
        return doneIf(store.renameGroup(id, { number: group, name }))
      }),
    remove: (id, group) =>
      on(id, () => {
        if (!store.groups(id).some(({ number }) => number === group)) return NO_GROUP
        if (!store.removeGroup(id, group, clock.now())) return NOT_STORED
        seats.dropGroup(id, group)
        return DONE
      }),
    openJoining: (id, isOpen) => on(id, (lesson) => doneIf(lesson.arrange({ isClosed: !isOpen }))),
    renewCode: (id) => on(id, (lesson) => doneIf(lesson.changeCode(options.freeCode()))),
    unstrike(id, number) {
      if (!store.lesson(id)) return missing(id)
      const row = records.records(id).find(({ record }) => record.number === number)
      if (!row) return NO_RECORD
      const done = doneIf(records.note(id, number, { remark: row.remark, struck: null }))
      const lesson = under.get(id)
      if (done.ok && lesson) {
        lesson.touch()
        showAll(lesson)
      }
      return done
    },
    end(id) {
      if (!under.has(id)) return missing(id)
      return doneIf(options.end(id))
    },
    explain: (id, figure) => under.get(id)?.scene.explain(figure) ?? missing(id),
  }
}

const ENDED = refuse(409, 'This lesson has ended.')
const NO_GROUP = refuse(404, 'This lesson has no such group.')
const NO_RECORD = refuse(404, 'This lesson has no such record.')
const NO_QUESTION = refuse(409, 'This is not the question that is asked now.')
const NO_PLANT = refuse(409, 'The plant is not read at present.')
const UNKNOWN_NOW = refuse(
  409,
  'The figure has no value just now, so there is nothing to reveal. Wait until it has.',
)
