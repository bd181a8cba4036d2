/** Why one cannot be sure that what comes in is of the instrument, or of the time that it says. */
export type SourceDoubt = 'order' | 'senders' | 'clock'

/** In words that a figure and an alarm show. */
export const DOUBT_WORDS: Record<SourceDoubt, string> = {
  order: 'readings overtake each other: two sources, or a clock that jumps',
  senders: 'two clients send it in turn',
  clock: 'the clock of the device disagrees with this server’s',
}

/** What is looked at of each sample: as it came, and as it was judged. Made once for each by whoever judges. */
export interface SourceFacts {
  receivedAt: number
  /** The client that sent it, where the broker knows. */
  sender: string | undefined
}

export interface JudgedTime {
  measuredAt: number
  late: false | string
}

/** A late reading measured longer ago [ms] comes out of a buffer, and is no sign of a second source. */
const PRESENT_MS = 10_000
/** Within this time [ms] so many late readings must follow one in order, and so large a share of all be late. */
const WINDOW_MS = 10_000
const FEWEST_OVERTAKEN = 3
const LATE_SHARE = 0.1
/** A client that sends again after another one within this time [ms] shares the topic with it. */
const TURN_MS = 60_000
/** A doubt stays this long [ms] after its last sign. */
const HOLD_MS = 30_000

/**
 * Watches who sends the readings of one instrument, and in which order. A second source, by mistake or by intent, can
 * hide what the instrument says behind readings of its own; no single one of them looks wrong.
 *
 * The function that it gives takes each sample as it came and as it was judged, and whether its time could not be
 * believed; @returns the doubt that there is now, the gravest first.
 */
export function createSourceWatch(): (
  facts: SourceFacts,
  judged: JudgedTime,
  isClockOdd: boolean,
) => SourceDoubt | undefined {
  const since: Record<SourceDoubt, number> = {
    order: Number.NEGATIVE_INFINITY,
    senders: Number.NEGATIVE_INFINITY,
    clock: Number.NEGATIVE_INFINITY,
  }
  let windowAt = 0
  let all = 0
  let late = 0
  let overtaken = 0
  let wasLate = false
  let last: string | undefined
  /** When each of the last few senders was heard. A program that takes a new name for each message never comes again. */
  const heard = new Map<string, number>()

  function noteOrder(receivedAt: number, measuredAt: number, isLate: boolean): void {
    if (Math.abs(receivedAt - windowAt) > WINDOW_MS) {
      windowAt = receivedAt
      all = late = overtaken = 0
    }
    all++
    const isOvertaken = isLate && receivedAt - measuredAt < PRESENT_MS
    if (isOvertaken) late++
    // A clock that was set back makes many late in one go, a second source makes some late again and again.
    if (isOvertaken && !wasLate) overtaken++
    wasLate = isLate
    if (overtaken >= FEWEST_OVERTAKEN && late >= LATE_SHARE * all) since.order = receivedAt
  }

  function noteSender(sender: string, receivedAt: number): void {
    if (sender === last) return
    const before = heard.get(sender)
    if (last !== undefined && before !== undefined && receivedAt - before < TURN_MS)
      since.senders = receivedAt
    if (last !== undefined) heard.set(last, receivedAt)
    last = sender
    if (heard.size > 8) heard.delete(heard.keys().next().value!)
  }

  return ({ receivedAt, sender }, { measuredAt, late: lateness }, isClockOdd) => {
    noteOrder(receivedAt, measuredAt, lateness !== false)
    if (sender !== undefined) noteSender(sender, receivedAt)
    if (isClockOdd) since.clock = receivedAt
    for (const doubt of DOUBTS) if (Math.abs(receivedAt - since[doubt]) < HOLD_MS) return doubt
    return undefined
  }
}

const DOUBTS: readonly SourceDoubt[] = ['senders', 'order', 'clock']
