import type { LivePlant } from '../../livePlant.ts'
import type { TraceCondition } from '../../wire/trace.ts'
import { judgeConditions, membersOf, sentenceOf } from './conditions.ts'
import type { TracePlan } from './tracePlan.ts'
import type { Jump } from './traceTrial.ts'

/** Watches an armed plant for the moment at which a trace begins. */
export interface BeginWatch {
  /** One look, twice a second. */
  look(): BeginLook
}

export interface BeginLook {
  state: 'preparing' | 'armed' | 'begins'
  sentence: string
  conditions: TraceCondition[]
}

/** A jump is looked for over the last two seconds: meters need that long to see all of it. */
const JUMP_LOOKS = 4
/** The main quantity falls when it is below its highest by so much. */
const FALLS = 0.003

export function createBeginWatch(live: LivePlant, plan: TracePlan): BeginWatch {
  const { ready, begin } = plan
  const jumps = begin.kind === 'change' ? jumpsAt(live, begin.of) : []
  const valueNow = (figure: string) => live.evaluator.value(live.plan.indexOf.get(figure) ?? -1)
  const before: number[][] = []
  let wasReady = ready.length === 0
  let highest = Number.NaN

  function lookForReady(): BeginLook | undefined {
    const conditions = judgeConditions(ready, live)
    if (conditions.every((one) => one.isMet)) {
      if (!wasReady) highest = valueNow(plan.view.main)
      wasReady = true
    }
    if (wasReady) return undefined
    return { state: 'preparing', sentence: sentenceOf(conditions)!, conditions }
  }

  /** Whether any figure has jumped, compared with the oldest of the last looks. */
  function hasJumped(): boolean {
    const now = jumps.map(({ figure }) => valueNow(figure))
    before.push(now)
    if (before.length > JUMP_LOOKS + 1) before.shift()
    return jumps.some(({ by, sign }, i) => {
      const change = now[i]! - before[0]![i]!
      return sign === undefined ? Math.abs(change) >= by : sign * change >= by
    })
  }

  function lookForChange(): BeginLook {
    const conditions = judgeConditions(ready, live)
    if (hasJumped() && wasReady) return { state: 'begins', sentence: '', conditions }
    const blocked = sentenceOf(conditions)
    if (blocked !== undefined) {
      wasReady = false
      return { state: 'preparing', sentence: blocked, conditions }
    }
    return { state: 'armed', sentence: `Armed. A trace begins when ${plan.view.begins}.`, conditions }
  }

  function lookForFall(): BeginLook {
    const conditions = judgeConditions(begin.kind === 'conditions' ? begin.all : [], live)
    const value = valueNow(plan.view.main)
    highest = Math.max(Number.isNaN(highest) ? value : highest, value)
    const against = sentenceOf(conditions)
    if (against === undefined && value < highest * (1 - FALLS))
      return { state: 'begins', sentence: '', conditions }
    const low = ready.find((one) => one.figure === plan.view.main)?.low
    if (against !== undefined && low !== undefined && value < low) {
      wasReady = false
      return { state: 'preparing', sentence: `It fell before everything was off. ${against}`, conditions }
    }
    return {
      state: 'armed',
      sentence: against ?? `Armed. A trace begins when ${plan.view.begins}.`,
      conditions,
    }
  }

  return {
    look() {
      if (begin.kind === 'change') {
        if (!wasReady) lookForReady()
        return lookForChange()
      }
      const preparing = lookForReady()
      if (preparing) return preparing
      return begin.kind === 'atOnce' ? { state: 'begins', sentence: '', conditions: [] } : lookForFall()
    },
  }
}

function jumpsAt(live: LivePlant, jumps: readonly Jump[]): Jump[] {
  return jumps.flatMap((jump) =>
    membersOf(jump.figure, live.plan.indexOf.keys()).map((figure) => ({ ...jump, figure })),
  )
}
