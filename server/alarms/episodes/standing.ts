import type { FigureLookupById } from '../../derive/lookup.ts'
import type { SaidState } from '../../derive/machineState.ts'
import type { LivePlant } from '../../livePlant.ts'
import type { AlarmView } from '../../wire/alarm.ts'
import type { MachineState } from '../../wire/plant.ts'
import { shownBy } from './causePaths.ts'

/** Contacts that tell that something has stopped the plant; the second ones may move in normal running too. */
const TRIPS = ['tripped', 'emergencyStop']
const ACTIONS = [...TRIPS, 'deflector']
/** Whoever hears that an event of the machine itself is over may walk up to it. */
const OF_MACHINE = ['speed', 'gridConnected', 'breakerClosed', 'loadOn', 'guardOpen', ...ACTIONS]
/** In these the machine does what it should, and nobody is surprised. */
const SETTLED: readonly MachineState[] = ['generating', 'motoring', 'stopped']

/** How an episode stands. */
export interface Standing {
  /** Why it is not over, in words; empty where it is. */
  open: string[]
  /** Names of the protection contacts that are on now; undefined where the plant reports none. */
  acted: string[] | undefined
}

/** An episode is over when none of its alarms holds, is latched or blind, nothing is tripped, and the machine runs as it should or stands. */
export function standingOf(
  members: readonly AlarmView[],
  live: Pick<LivePlant, 'plant' | 'figures' | 'state'>,
): Standing {
  const contacts = live.plant.instruments.filter(({ quantity }) => ACTIONS.includes(familyOf(quantity)))
  const on = contacts.filter(({ quantity }) => live.figures.value(quantity) >= 0.5)
  const isOfMachine = members.some(({ figure }) => OF_MACHINE.includes(shownBy(figure)))
  return {
    open: [
      ...members.flatMap(alarmOpen),
      ...(isOfMachine
        ? on.filter(({ quantity }) => TRIPS.includes(familyOf(quantity))).map(({ name }) => `${name}: on`)
        : []),
      ...(isOfMachine ? machineOpen(live.state(), live.figures) : []),
    ],
    acted: contacts.length === 0 ? undefined : on.map(({ name }) => name),
  }
}

function familyOf(quantity: string): string {
  return quantity.split('.')[0]!
}

function alarmOpen({ name, active, unknown, state }: AlarmView): string[] {
  if (unknown && state !== 'normal') return [`${name}: cannot be judged`]
  if (active) return [`${name}: active`]
  const isLatched = state === 'latchedUnacknowledged' || state === 'latchedAcknowledged'
  return isLatched ? [`${name}: latched`] : []
}

/** Where no instrument could tell, that alone keeps nothing open. */
function machineOpen({ state, sentence }: SaidState, { has }: Pick<FigureLookupById, 'has'>): string[] {
  const cannotBeTold = (state === 'unknown' && !has('speed')) || (state === 'turning' && !has('activePower'))
  if (SETTLED.includes(state) || cannotBeTold) return []
  return [sentence.replace(/\.$/, '')]
}
