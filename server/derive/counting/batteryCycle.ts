import type { IndexView } from '../../wire/replies.ts'
import { EMPTY_STATE } from '../integrate.ts'
import type { Tracker, TrackerContext } from './tracker.ts'

/** Id under which it is kept. */
const ID = 'batteryCycle'
/** The state of charge must have gone this far away meanwhile: less tells nothing [default]. */
const FEWEST_DEPTH = 0.2
/** A cycle that does not close within this time [ms] begins anew where the battery then stands. */
const LONGEST_MS = 7 * 86_400_000
/** A cycle of which more than this share was missed is thrown away. */
const MOST_MISSED = 0.01

interface Totals {
  at: number
  energyIn: number
  energyOut: number
  gapSeconds: number
}

interface Memory {
  begin: Totals & { charge: number }
  low: number
  high: number
  /** On which side of its begin the state of charge last was: −1, 0 or 1. */
  side: number
  /** The last cycle that closed. */
  closed?: { from: number; to: number; value: number; depth: number }
}

export interface BatteryCycle extends Tracker {
  view(): IndexView
}

/**
 * Round-trip efficiency of the battery over a closed cycle of its state of charge:  η = E_out / E_in, counted from
 * one state of charge back to the same. Only then is nothing stored or taken out on balance.
 * Closed at the very crossing: a tolerance would end every cycle early, 1 % of 25 % being 4 % of the energy out.
 * Source: definition.
 */
export function createBatteryCycle({ plant, figures, store, tallies }: TrackerContext): BatteryCycle {
  const stored = store.load(plant.id, ID)
  let memory = stored?.memory as Memory | undefined
  let saved = memory
  const [into, out] = [tallies.get('batteryEnergyIn'), tallies.get('batteryEnergyOut')]
  const isPossible = into !== undefined && out !== undefined && figures.has('stateOfCharge')

  return {
    tick(now) {
      const charge = figures.value('stateOfCharge')
      if (!isPossible || Number.isNaN(charge)) return
      const { value: energyIn, gapSeconds } = into.state()
      memory = follow(memory, charge, { at: now, energyIn, energyOut: out.state().value, gapSeconds })
    },
    change() {
      if (memory === undefined || memory === saved) return undefined
      const since = stored?.since ?? memory.begin.at
      const counter = {
        id: ID,
        since,
        source: 'counted',
        state: EMPTY_STATE,
        memory,
      } as const
      return { counter, days: [], quarters: [] }
    },
    saved() {
      saved = memory
    },
    view: () => viewOf(isPossible, memory?.closed),
  }
}

function follow(memory: Memory | undefined, charge: number, now: Totals): Memory {
  const fresh = { begin: { ...now, charge }, low: charge, high: charge, side: 0 }
  if (!memory) return fresh
  const { begin, closed } = memory
  const low = Math.min(memory.low, charge)
  const high = Math.max(memory.high, charge)
  const kept = closed ? { closed } : {}
  if (now.at - begin.at > LONGEST_MS || now.at < begin.at) return { ...fresh, ...kept }
  const side = Math.sign(charge - begin.charge)
  if (high - low < FEWEST_DEPTH || side === memory.side) {
    const isSame = low === memory.low && high === memory.high && side === memory.side
    return isSame ? memory : { ...memory, low, high, side }
  }
  const isMissed = (now.gapSeconds - begin.gapSeconds) * 1000 > MOST_MISSED * (now.at - begin.at)
  const energyIn = now.energyIn - begin.energyIn
  if (isMissed || energyIn <= 0) return { ...fresh, ...kept }
  const value = (now.energyOut - begin.energyOut) / energyIn
  return { ...fresh, closed: { from: begin.at, to: now.at, value, depth: high - low } }
}

function viewOf(isPossible: boolean, closed: Memory['closed']): IndexView {
  const head = {
    id: 'batteryRoundTrip',
    name: 'Round-trip efficiency of the battery',
    unit: '1',
    viewUnit: '%',
    formula: 'energy out ÷ energy in, from one state of charge back to the same; the last closed cycle',
    thisMonth: null,
    since: null,
  }
  if (!isPossible) return { ...head, needs: 'needs battery voltage, battery current and the state of charge' }
  if (!closed) return { ...head, needs: 'needs a closed cycle of the state of charge, 20 % or deeper' }
  const { from, to, value } = closed
  return { ...head, since: { from, to, value, unknownSeconds: 0, quality: 'good', reasons: [] } }
}
