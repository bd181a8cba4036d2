import type { BatteryDesign } from '../plants/battery.ts'
import type { ConsumerDesign } from '../plants/consumers.ts'
import type { DumpDesign } from '../plants/parts.ts'
import type { Built } from './built.ts'
import type { Sources } from './given.ts'

/** Rated voltage of a lithium iron phosphate cell [V]. */
const CELL = 3.2
/** Voltage lost at the current of one hour, as a share (common practice, no source). */
const DROP = 0.02

export function batteryDesign({ given, built }: Sources): BatteryDesign {
  const voltage = given.need('battery.ratedVoltage')
  const capacity = given.need('battery.ratedCharge')
  return {
    cells: Math.round(voltage / CELL),
    capacity,
    resistance: built.battery.resistance ?? (DROP * voltage * 3600) / capacity,
    chargeEfficiency: given.find('battery.chargeEfficiency') ?? 1,
    charge: built.battery.charge,
    warming: built.battery.warming,
    airTemperature: built.airTemperature,
  }
}

/** @param usual Signal at which it begins and is full on, where the file does not say. */
export function dumpDesign({ given, built }: Sources, usual: { from: number; full: number }): DumpDesign {
  const { from = usual.from, full = usual.full, lag, warming } = built.dump
  return { power: given.need('dump.ratedPower'), from, full, lag, warming }
}

export function consumerDesigns({ consumers }: Built): ConsumerDesign[] {
  return consumers.map(({ on, ...one }) => {
    if (one.kind === 'demand') return { ...one, initial: on === false ? 0 : one.power }
    return { ...one, initial: one.kind === 'count' ? Number(on) : Boolean(on) }
  })
}
