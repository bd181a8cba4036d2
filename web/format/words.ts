import type { AgreementState } from '../../server/wire/agreement.ts'
import type { AlarmPriority, AlarmState, JournalEntry } from '../../server/wire/alarm.ts'
import type { FigureDescription, FigureGroup, Quality } from '../../server/wire/figure.ts'
import type { MachineState } from '../../server/wire/plant.ts'

export const stateWords: Record<MachineState, string> = {
  generating: 'Generating',
  starting: 'Starting',
  noLoad: 'No load',
  runDown: 'Running down',
  motoring: 'Motoring',
  stopped: 'Stopped',
  overSpeed: 'Over-speed',
  turning: 'Turning',
  unknown: 'Unknown',
}

/** Whether the instruments agree. */
export const agreementWords: Record<AgreementState, string> = {
  agrees: 'yes',
  suspect: 'no',
  notJudged: 'not judged',
}

/** Letter beside a value that is not good; the same everywhere. */
export const qualityLetters: Record<Quality, string> = { good: '', uncertain: '?', bad: 'B' }

/** Words for the alarm states of IEC 62682. */
export const alarmStateWords: Record<AlarmState, string> = {
  normal: 'Normal',
  unacknowledged: 'Not acknowledged',
  acknowledged: 'Acknowledged',
  returnedUnacknowledged: 'Returned to normal, not acknowledged',
  latchedUnacknowledged: 'Latched, not acknowledged',
  latchedAcknowledged: 'Latched, acknowledged; needs reset',
  shelved: 'Shelved',
  suppressed: 'Suppressed by design: it means nothing now',
  outOfService: 'Out of service',
}

export const priorityWords: Record<AlarmPriority, string> = { high: 'High', medium: 'Medium', low: 'Low' }
export const priorityNumbers: Record<AlarmPriority, number> = { high: 1, medium: 2, low: 3 }

export const eventWords: Record<JournalEntry['event'], string> = {
  raise: 'raised',
  return: 'returned to normal',
  toldLate: 'had been so, told late',
  acknowledge: 'acknowledged',
  reset: 'reset',
  shelve: 'shelved',
  unshelve: 'taken off the shelf',
  shelfExpired: 'came off the shelf by itself',
  takeOut: 'taken out of service',
  putBack: 'put back into service',
}

export const originWords: Record<FigureDescription['origin'], string> = {
  measured: 'Measured: straight from an instrument',
  derived: 'Derived: by formula from measurements',
  estimated: 'Estimated: by formula with a substitute for a missing measurement',
  counted: 'Counted: summed over time',
}

/** Groups in the order in which a plant is read, water first. */
export const groupWords: [FigureGroup, string][] = [
  ['water', 'Water'],
  ['head', 'Head and pressure'],
  ['machine', 'Turbine'],
  ['electrical', 'Electrical'],
  ['storage', 'Storage'],
  ['loads', 'Loads'],
  ['efficiency', 'Efficiency'],
  ['energy', 'Energy'],
  ['pump', 'Pump'],
  ['condition', 'Condition'],
  ['balance', 'Losses by stage'],
]

/** "1 alarm", "3 alarms". */
export function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`
}

/** What the browser's tab says: "(2) Mill · Headrace" while two alarms wait for an answer. */
export function pageTitle(screen: string, unacknowledged = 0): string {
  return `${unacknowledged > 0 ? `(${unacknowledged}) ` : ''}${screen} · Headrace`
}

/** Words for the two states of a discrete figure: [0, 1], by the quantity without its number. */
const STATES: Record<string, readonly [off: string, on: string]> = {
  jetOpen: ['closed', 'open'],
  inletValve: ['closed', 'open'],
  guardOpen: ['closed', 'open'],
  deflector: ['clear', 'in the jet'],
  gridConnected: ['no', 'yes'],
  tripped: ['no', 'tripped'],
  emergencyStop: ['no', 'pressed'],
  waterOnFloor: ['no', 'yes'],
}

const PLAIN = ['off', 'on'] as const

/** "jetOpen.2", 1 → "open". A value that is neither 0 nor 1 is no state, and its number is shown. */
export function stateWord(quantity: string, value: number): string | undefined {
  const words = STATES[quantity.split('.')[0]!] ?? PLAIN
  return value === 0 || value === 1 ? words[value] : undefined
}
