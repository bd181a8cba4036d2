import type { Plant } from '../../server/plant/plant.ts'
import { findUnit, fromSi, toSi } from '../../server/wire/units.ts'
import type { Setting } from '../plants/model.ts'
import type { OutMessage } from './encode.ts'

export type Control = NonNullable<Plant['simulation']>['controls'][number]

/** Reads the payload of a command: a number in the control's unit, 1/0 or true/false, or the id of a choice. */
export function readCommand(control: Control, payload: string): { value: Setting } | { fault: string } {
  const text = payload.trim()
  const expected = (what: string) => ({
    fault: `command "${control.id}": found "${text.slice(0, 64)}", expected ${what}. The setting stays as it was.`,
  })
  if (control.kind === 'switch') {
    if (text === '1' || text === 'true') return { value: true }
    return text === '0' || text === 'false' ? { value: false } : expected('1 or 0')
  }
  if (control.kind === 'choice') return { value: text }
  const value = text === '' ? Number.NaN : Number(text)
  const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY } = control
  return value >= min && value <= max ? { value } : expected(`a number from ${min} to ${max}`)
}

/** A slider's number in SI; anything else as it is. */
export function settingToSi(control: Control, value: Setting): Setting {
  const unit = control.unit === undefined ? undefined : findUnit(control.unit)
  return typeof value === 'number' && unit ? toSi(value, unit) : value
}

export function settingFromSi(control: Control, value: Setting): Setting {
  const unit = control.unit === undefined ? undefined : findUnit(control.unit)
  return typeof value === 'number' && unit ? Number(fromSi(value, unit).toPrecision(9)) : value
}

/** …/simulator/command/jet-1 is answered on …/simulator/state/jet-1. */
export function stateMessage(control: Control, value: Setting): OutMessage {
  return {
    topic: control.topic.replace('/command/', '/state/'),
    payload: String(typeof value === 'boolean' ? Number(value) : value),
    retain: true,
  }
}
