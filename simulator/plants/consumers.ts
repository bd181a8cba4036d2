import type { Setting } from './model.ts'
import { createWander } from './parts.ts'

/** One consumer, or several alike. Its control has its id. */
export interface ConsumerDesign {
  id: string
  /** switch: on or off. count: so many of `power`. demand: so many watts. */
  kind: 'switch' | 'count' | 'demand'
  /** Of one [W]. */
  power: number
  powerFactor: number
  /** Standard deviation of what people change by themselves, as a share. */
  habits: number
  initial: Setting
}

const HABIT_TIME = 20

/** All consumers of a plant, at rated voltage. */
export function createConsumers(designs: readonly ConsumerDesign[], random: (() => number) | undefined) {
  const habits = designs.map(({ habits: sigma }) => createWander(random, { sigma, timeConstant: HABIT_TIME }))
  const tangents = designs.map(({ powerFactor }) => tangent(powerFactor))
  const on = designs.map(() => false)
  let power = 0
  let reactive = 0

  function ratingOf({ kind, power }: ConsumerDesign, setting: Setting): number {
    if (kind === 'demand') return Number(setting)
    return power * (kind === 'count' ? Math.round(Number(setting)) : Number(setting))
  }

  return {
    settings: Object.fromEntries(designs.map(({ id, initial }) => [id, initial])) as Record<string, Setting>,
    /** [W] */
    power: () => power,
    /** [var], lagging. */
    reactive: () => reactive,
    step(dt: number, settings: Readonly<Record<string, Setting>>, isFed = true): void {
      power = 0
      reactive = 0
      designs.forEach((design, i) => {
        const habit = habits[i]!
        if (design.habits > 0) habit.step(dt)
        const rating = ratingOf(design, settings[design.id]!)
        on[i] = isFed && (design.kind === 'demand' || rating > 0)
        const taken = isFed ? rating * (1 + habit.value()) : 0
        power += taken
        reactive += taken * tangents[i]!
      })
    },
    truth: (): Record<string, number> =>
      Object.fromEntries(on.map((isOn, i) => [`loadOn.${i + 1}`, Number(isOn)])),
  }
}

function tangent(powerFactor: number): number {
  return Math.sqrt(1 - powerFactor ** 2) / powerFactor
}
