import type { MachineState, StateView } from '../wire/plant.ts'
import { isTooMuchTorque, RUNNING_POWER, STOPPED_POWER } from './counting/conditions.ts'
import type { FigureLookupById } from './lookup.ts'
import { type MachineSaying, sentenceOf } from './machineSentence.ts'
import type { Plan } from './plan.ts'
import { createShaft } from './shaft.ts'
import { createTrend, type Past } from './trend.ts'

/** Share of the rated speed from which a machine is in over-speed (common practice, no source). */
const OVER_SPEED = 1.1
/** Below this share of the rated speed the shaft stands still. */
const STANDSTILL = 0.01
/** A machine that rises without power below this share of rated speed is being started (common practice, no source). */
const STARTING = 0.9
/** One that has lost its load rises too: for this long [ms] it is not called a start. */
const LOAD_LOST_MS = 60_000
/** Up to this share of rated power a machine at rest may draw, e.g. for its heating (common practice, no source). */
const DRAWN_AT_REST = 0.05
/** Instruments that contradict each other may be late for this long [ms] before they are not believed. */
const PATIENCE_MS = 3000
/** What is drawn is called impossible from this share on while water makes more than that (common practice, no source). */
const MUCH = 0.2

/** What the machine is doing, without whether its instruments agree. */
export type SaidState = Omit<StateView, 'agreement'>

/** What goes on elsewhere: what was said last, and what it followed from. */
export interface MachineMemory {
  said: SaidState
  past: Past
  /** When it last made power, and since when its instruments contradict each other [ms UTC]. */
  madeAt: number
  doubtedSince: number | undefined
}

const NOTHING_YET: MachineMemory = {
  said: { state: 'unknown', sentence: 'No reading has come in yet.', since: null },
  past: [],
  madeAt: Number.NEGATIVE_INFINITY,
  doubtedSince: undefined,
}

/**
 * What the machine is doing, as a word and as a sentence for the telephone. It is "stopped" only where the speed is known
 * to be none and nothing contradicts that; what nobody can say is "unknown".
 *
 * @param before What it was doing before the first tick, where that is known.
 */
export function createMachineState(
  plan: Plan,
  figures: FigureLookupById,
  before = NOTHING_YET,
): { tick(now: number): SaidState; state(): SaidState; memory(): MachineMemory } {
  const { look, memory } = createMachineLook(plan, figures, before)
  let known = before.said
  return {
    tick(now) {
      const { state, saying } = look(now, known.state)
      const since = state === known.state ? known.since : now
      const sentence = sentenceOf(state, saying)
      if (state !== known.state || sentence !== known.sentence) known = { state, sentence, since }
      return known
    },
    state: () => known,
    memory: () => ({ said: known, ...memory() }),
  }
}

type Direction = 'making' | 'none' | 'taking' | 'unknown'

function createMachineLook({ plant }: Plan, figures: FigureLookupById, before: MachineMemory) {
  const shaft = createShaft(plant, figures)
  const trend = createTrend([...before.past])
  let { madeAt, doubtedSince } = before

  function look(now: number, before: MachineState): { state: MachineState; saying: MachineSaying } {
    const { share: speed, isWatched, conflict } = shaft()
    const power = figures.value('activePower')
    const flows = directionOf(before)
    const change = trend.add(now, speed)
    const doubt = conflict ?? contradiction(speed, flows)
    doubtedSince = doubt === undefined ? undefined : Math.min(doubtedSince ?? now, now)
    const isDoubted = doubtedSince !== undefined && now - doubtedSince >= PATIENCE_MS
    if (flows === 'making') madeAt = now
    const water = figures.value('hydraulicPower')
    const back = flowBack(figures)
    const hasPower = figures.has('activePower')
    const saying = {
      speed,
      power,
      water,
      back,
      change,
      isWatched,
      hasPower,
      doubt: isDoubted ? doubt : undefined,
    }
    return { state: judge(now), saying }

    function judge(at: number): MachineState {
      if (speed >= OVER_SPEED) return 'overSpeed'
      if (isDoubted) return 'unknown'
      if (flows === 'making') return 'generating'
      if (Number.isNaN(speed)) return 'unknown'
      if (speed < STANDSTILL) return doubt === undefined ? 'stopped' : 'unknown'
      if (flows === 'taking') return 'motoring'
      if (flows === 'unknown') return 'turning'
      if (change === 'falls') return 'runDown'
      const isStart = change === 'rises' && speed < STARTING && at - madeAt > LOAD_LOST_MS
      return isStart ? 'starting' : 'noLoad'
    }
  }

  /** Which way the power goes; a machine at the edge does not change its state with every reading. */
  function directionOf(before: MachineState): Direction {
    const power = figures.value('activePower')
    if (Number.isNaN(power)) return 'unknown'
    const share = figures.share('activePower')
    const limit = before === 'generating' || before === 'motoring' ? STOPPED_POWER : RUNNING_POWER
    const [amount, least] = Number.isNaN(share) ? [power, figures.u95('activePower')] : [share, limit]
    if (amount > least) return 'making'
    return amount < -least ? 'taking' : 'none'
  }

  /** What speed and power, or power and water, cannot both be. */
  function contradiction(speed: number, flows: Direction): string | undefined {
    const share = figures.share('activePower')
    const isDrawnAtRest = speed < STANDSTILL && -share > DRAWN_AT_REST
    if (isTooMuchTorque(speed, share) || isDrawnAtRest) return 'speed and power'
    if (flows !== 'taking') return undefined
    const water = figures.value('hydraulicPower')
    return -share > MUCH && water > -figures.value('activePower') ? 'power and water' : undefined
  }

  return { look, memory: () => ({ past: trend.past(), madeAt, doubtedSince }) }
}

/** Discharge that runs back beyond its ± [m³/s], and beyond 1 % of rated where that is stated; NaN where none does. */
function flowBack(figures: FigureLookupById): number {
  const back = -figures.value('discharge')
  const isNoise = back <= figures.u95('discharge') || -figures.share('discharge') <= RUNNING_POWER
  return back > 0 && !isNoise ? back : Number.NaN
}
