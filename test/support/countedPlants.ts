import type { CounterBench } from './counterBench.ts'
import { MINUTE } from './counterBench.ts'
import { plantOf } from './plants.ts'

/** One sample a minute is this plant's rhythm, so that a day is quickly played. */
const SLOW = `
site: { timeZone: Europe/London }
generator: { kind: synchronous, polePairs: 2, ratedSpeed: 1500 /min, ratedPower: 125 MW }
instruments:
  - { id: power, role: activePower, topic: mill/power, unit: W, period: 1 min }
`

const QUICK = `
site: { timeZone: Europe/London }
turbine: { kind: turgo, ratedDischarge: 44 L/s }
generator: { kind: synchronous, polePairs: 2, ratedSpeed: 1500 /min, ratedPower: 15 kW }
licence: { handsOffFlow: 12 L/s }
instruments:
  - { id: power, role: activePower, topic: mill/power, unit: W }
  - { id: speed, role: speed, topic: mill/speed, unit: /min }
  - { id: flow, role: discharge, topic: mill/flow, unit: L/s }
  - { id: left, role: residualFlow, topic: mill/left, unit: L/s }
  - { id: trip-1, name: Over-speed switch, role: tripped.1, topic: mill/trip/1, unit: "1", periodic: false }
  - { id: trip-2, name: Mains relay, role: tripped.2, topic: mill/trip/2, unit: "1", periodic: false }
`

export const slowPlant = plantOf(SLOW)
export const quickPlant = plantOf(QUICK)
export const RATED_SPEED = (1500 * 2 * Math.PI) / 60
/** In London. */
export const NOON = Date.parse('2026-06-10T11:00:00Z')

/** Constant power from one moment to another, one sample a minute; a second reading at once confirms that it is there. */
export function runSteadily(
  bench: CounterBench,
  [from, to]: [from: number, to: number],
  power: number,
): void {
  bench.step(from, { activePower: power })
  bench.step(from + 1, { activePower: power })
  for (let at = from + MINUTE; at < to; at += MINUTE) bench.step(at, { activePower: power })
  bench.step(to, { activePower: power })
}
