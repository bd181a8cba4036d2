import type { FigurePlant } from '../../mirror/shownPlant.ts'
import type { TraceCondition } from '../../wire/trace.ts'
import type { TraceMethod } from '../runMethod.ts'
import type { Jump } from '../trial.ts'
import { conditionsNow, membersOf, sentenceOf } from './conditions.ts'

export interface BeginLook {
  state: 'preparing' | 'armed' | 'begins'
  sentence: string
  conditions: TraceCondition[]
}

const LOOKS_PER_SECOND = 2
/** A jump is told from the mean of so many quiet looks, once what a trace keeps from before it has been quiet as well. */
const QUIET_LOOKS = 4
/** Quiet: within half a jump of their mean. A meter may show half of a jump first; so many such looks are waited for. */
const QUIET_SHARE = 0.5
const MOST_HALFWAY = 3
/** The main quantity falls when it is below its highest by so much. */
const FALLS = 0.003

/** Watches an armed plant for the moment at which a trace begins; look twice a second. */
export function createBeginWatch(live: FigurePlant, { view, ready, begin }: TraceMethod): () => BeginLook {
  const jumps = createJumpWatch(
    begin.kind === 'change' ? jumpsAt(live, begin.of) : [],
    Math.max(QUIET_LOOKS, LOOKS_PER_SECOND * view.secondsBefore),
  )
  const valueNow = (figure: string) => live.evaluator.value(live.plan.indexOf.get(figure) ?? -1)
  let wasReady = ready.length === 0
  let highest = Number.NaN

  function lookForReady(): BeginLook | undefined {
    const conditions = conditionsNow(ready, live)
    if (conditions.every((one) => one.isMet)) {
      if (!wasReady) highest = valueNow(view.main)
      wasReady = true
    }
    if (wasReady) return undefined
    return { state: 'preparing', sentence: sentenceOf(conditions)!, conditions }
  }

  function lookForChange(): BeginLook {
    const conditions = conditionsNow(ready, live)
    const now = jumps.figures.map(valueNow)
    if (jumps.hasJumped(now)) return { state: 'begins', sentence: '', conditions }
    const blocked = sentenceOf(conditions)
    if (blocked !== undefined) {
      jumps.forget()
      return { state: 'preparing', sentence: blocked, conditions }
    }
    if (!jumps.take(now))
      return { state: 'preparing', sentence: 'Let it settle for some seconds.', conditions }
    return { state: 'armed', sentence: `Armed. A trace begins when ${view.begins}.`, conditions }
  }

  function lookForFall(): BeginLook {
    const conditions = conditionsNow(begin.kind === 'conditions' ? begin.all : [], live)
    const value = valueNow(view.main)
    highest = Math.max(Number.isNaN(highest) ? value : highest, value)
    const against = sentenceOf(conditions)
    if (against === undefined && value < highest * (1 - FALLS))
      return { state: 'begins', sentence: '', conditions }
    const low = ready.find((one) => one.figure === view.main)?.low
    if (against !== undefined && low !== undefined && value < low) {
      wasReady = false
      return { state: 'preparing', sentence: `It fell before everything was off. ${against}`, conditions }
    }
    return {
      state: 'armed',
      sentence: against ?? `Armed. A trace begins when ${view.begins}.`,
      conditions,
    }
  }

  return () => {
    if (begin.kind === 'change') return lookForChange()
    const preparing = lookForReady()
    if (preparing) return preparing
    return begin.kind === 'atOnce' ? { state: 'begins', sentence: '', conditions: [] } : lookForFall()
  }
}

function createJumpWatch(jumps: readonly Jump[], fewestLooks: number) {
  const quiet: (readonly number[])[] = []
  let looks = 0
  let halfway = 0
  const mean = (i: number) => quiet.reduce((sum, look) => sum + look[i]!, 0) / quiet.length
  const isQuiet = (now: readonly number[]) =>
    quiet.length === 0 || jumps.every(({ by }, i) => Math.abs(now[i]! - mean(i)) <= QUIET_SHARE * by)
  const forget = () => {
    quiet.length = 0
    looks = 0
    halfway = 0
  }
  return {
    figures: jumps.map(({ figure }) => figure),
    forget,
    /** Compared with the quiet state before; never without one. */
    hasJumped(now: readonly number[]): boolean {
      if (looks < fewestLooks) return false
      return jumps.some(({ by, sign }, i) => {
        const change = now[i]! - mean(i)
        return sign === undefined ? Math.abs(change) >= by : sign * change >= by
      })
    },
    /** Adds a look to the quiet state. Returns whether there is one. */
    take(now: readonly number[]): boolean {
      if (now.some(Number.isNaN)) {
        forget()
        return false
      }
      if (!isQuiet(now)) {
        halfway++
        if (halfway <= MOST_HALFWAY && looks >= fewestLooks) return true
        forget()
      }
      halfway = 0
      quiet.push(now)
      if (quiet.length > QUIET_LOOKS) quiet.shift()
      looks++
      return looks >= fewestLooks
    },
  }
}

function jumpsAt(live: FigurePlant, jumps: readonly Jump[]): Jump[] {
  return jumps.flatMap((jump) =>
    membersOf(jump.figure, live.plan.indexOf.keys()).map((figure) => ({ ...jump, figure })),
  )
}
