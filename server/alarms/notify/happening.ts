import { nodeOf } from '../../derive/plan.ts'
import type { LivePlant } from '../../livePlant.ts'
import type { FigureDescription } from '../../wire/figure.ts'
import { findUnit, fromSi, toSi } from '../../wire/units.ts'
import type { Happening } from './message.ts'

/** A step in words and units for people; undefined for an alarm that the plant no longer has. */
export function happeningOf(
  live: LivePlant,
  alarmId: string,
  step: Happening['entry'] & { value: number | null },
): Happening | undefined {
  const alarm = live.board.views().find((one) => one.id === alarmId)
  if (!alarm) return undefined
  const node = nodeOf(live.plan, alarm.figure)
  const { id, name, simulated } = live.plant
  return {
    plant: { id, name, simulated, timeZone: live.plant.site.timeZone },
    alarm,
    entry: step,
    value: printValue(step.value, node?.description),
    limit: alarm.limit === undefined ? undefined : printValue(alarm.limit, node?.description),
    machine: live.state().sentence,
  }
}

/** Four significant digits in the unit that people read the figure in, e.g. "1770 min⁻¹". */
export function printValue(value: number | null, figure: FigureDescription | undefined): string {
  if (value === null || !Number.isFinite(value)) return 'no value'
  const from = findUnit(figure?.unit ?? '1')
  const to = findUnit(figure?.viewUnit ?? '1')
  const shown = from && to ? fromSi(toSi(value, from), to) : value
  const unit = from && to ? to.print : (figure?.unit ?? '')
  const text = String(Number(shown.toPrecision(4))).replace('-', '\u2212')
  return unit === '' ? text : `${text} ${unit}`
}
