import type { Plant } from '../../plant/plant.ts'
import type { Condition } from '../trial.ts'

/** Whether the plant measures a quantity, or any member of its family. */
export function hasQuantity(plant: Plant, quantity: string): boolean {
  return plant.instruments.some((one) => one.quantity === quantity || one.quantity.split('.')[0] === quantity)
}

/** A share of these two is "shut" and "off": a position card and a meter do not read nothing. */
const SHUT = 0.02
const OFF = 0.02

/** No water: jets, spears and guide vanes shut, as far as the plant reports them. */
export function waterOff(plant: Plant): Condition[] {
  const rows: [figure: string, label: string, high: number, advice: string][] = [
    ['jetOpen', 'Jets shut', 0.5, 'shut it'],
    ['needleStroke', 'Spears shut', SHUT, 'shut it slowly'],
    ['guideVaneOpening', 'Guide vanes shut', SHUT, 'shut them slowly'],
  ]
  return rows
    .filter(([figure]) => hasQuantity(plant, figure))
    .map(([figure, label, high, advice]) => ({ label, figure, high, words: 'is open', advice }))
}

/** Nothing is taken from the generator. */
export function loadOff(plant: Plant): Condition[] {
  const rated = plant.constants.get('generator.ratedCurrent')
  if (rated === undefined || !hasQuantity(plant, 'phaseCurrent')) return []
  const advice = 'take the load off the generator'
  return [{ label: 'No load', figure: 'phaseCurrent', high: OFF * rated, words: 'is on', advice }]
}

/** No protection has tripped, where the plant reports it. */
export function nothingTripped(plant: Plant): Condition[] {
  if (!hasQuantity(plant, 'tripped')) return []
  const advice = 'find out why; it is reset at the plant, not here'
  return [{ label: 'Nothing tripped', figure: 'tripped', high: 0.5, words: 'stands', advice }]
}

/** Rated speed of the shaft whose speed is measured [rad/s]. */
export function ratedSpeedOf({ constants }: Plant): number | undefined {
  return constants.get('generator.ratedSpeed') ?? constants.get('turbine.ratedSpeed')
}
