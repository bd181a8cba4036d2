import type { MachineState, StateView } from '../wire/plant.ts'
import { fromSi, unitOf } from '../wire/units.ts'
import { RUNNING_POWER, RUNNING_SPEED } from './counting/conditions.ts'
import type { FigureLookupById } from './lookup.ts'

/** Share of the rated speed from which a machine is in over-speed (common practice, no source). */
const OVER_SPEED = 1.1
/** Below this share of the rated speed the shaft stands still. */
const STANDSTILL = 0.01

/** What the machine is doing, without whether its instruments agree. */
export type SaidState = Omit<StateView, 'agreement'>

/** What the machine is doing, as a word and as a sentence for the telephone. */
export function createMachineState(
  figures: FigureLookupById,
  before: SaidState = { state: 'unknown', sentence: 'No reading has come in yet.', since: null },
): {
  tick(now: number): SaidState
  state(): SaidState
} {
  let known = before
  return {
    tick(now) {
      const state = judge(figures)
      const since = state === known.state ? known.since : now
      const sentence = say(state, figures)
      if (state !== known.state || sentence !== known.sentence) known = { state, sentence, since }
      return known
    },
    state: () => known,
  }
}

function judge(figures: FigureLookupById): MachineState {
  const speed = figures.share('speed')
  const power = figures.value('activePower')
  if (Number.isNaN(speed) && Number.isNaN(power)) return 'unknown'
  // A machine that lost its load makes no power either: without its speed nobody may say that it has stopped.
  const isBlind = figures.has('speed') && Number.isNaN(speed)
  if (speed >= OVER_SPEED) return 'overSpeed'
  if (!Number.isNaN(speed) && speed < STANDSTILL) return 'standstill'
  const share = figures.share('activePower')
  const isMaking = Number.isNaN(share) ? power > 0 : share > RUNNING_POWER
  const isTurning = Number.isNaN(speed) || speed > RUNNING_SPEED
  if (isTurning && isMaking) return 'running'
  return isBlind ? 'unknown' : 'stopped'
}

function say(state: MachineState, figures: FigureLookupById): string {
  switch (state) {
    case 'running':
      return running(figures)
    case 'overSpeed':
      return `Over-speed: ${percent(figures.share('speed'))} of rated speed. Stay clear of the machine.`
    case 'standstill':
      return 'The shaft stands still.'
    case 'stopped':
      return Number.isNaN(figures.share('speed'))
        ? 'No power is being made.'
        : `Turning at ${percent(figures.share('speed'))} of rated speed without making power.`
    case 'unknown':
      return Number.isNaN(figures.value('activePower'))
        ? 'Nobody can say: neither speed nor power is coming in.'
        : 'No power is being made and the speed is not coming in: the machine may be turning fast.'
  }
}

function running(figures: FigureLookupById): string {
  const power = figures.value('activePower')
  if (Number.isNaN(power)) return 'Turning; power is not known.'
  const water = figures.value('hydraulicPower')
  const made = `Making ${watts(power)}`
  return Number.isNaN(water) ? `${made}.` : `${made} from ${watts(water)} of water power.`
}

function watts(value: number): string {
  const unit = unitOf(Math.abs(value) >= 10_000 ? 'kW' : 'W')
  return `${Number(fromSi(value, unit).toPrecision(3))} ${unit.print}`
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`
}
