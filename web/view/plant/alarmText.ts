import type { AlarmView } from '../../../server/wire/alarm.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import type { PlantHold } from '../../hold/plantHold.ts'

/** A value of the alarm's figure with its unit, as read: "1 612 min⁻¹". */
export function alarmNumber(alarm: AlarmView, value: number | null, hold: PlantHold): string {
  const figure = hold.byId.get(alarm.figure)
  if (!figure || value === null) return formatNumber(null).text
  const { rated } = figure.description
  const usual = rated === undefined ? undefined : figure.unit.value(rated)
  return `${formatNumber(figure.unit.value(value), { usual }).text}\u00a0${figure.unit.print}`.trim()
}

/** An alarm on a state, such as a trip: its name says all, and its limit of 0.5 nothing. */
export function isDiscrete(alarm: AlarmView, { byId }: PlantHold): boolean {
  return byId.get(alarm.figure)?.description.discrete === true
}

export function limitText(alarm: AlarmView, hold: PlantHold): string {
  if (isDiscrete(alarm, hold)) return ''
  return alarm.limit === undefined ? alarm.condition : `limit ${alarmNumber(alarm, alarm.limit, hold)}`
}
