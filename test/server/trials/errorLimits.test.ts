import { describe, expect, it } from 'vitest'
import { instrumentUncertainty, limitAt } from '../../../server/derive/instrumentUncertainty.ts'
import { trials } from '../../../server/trials/definitions/index.ts'
import { budgetOf } from '../../../server/trials/pack/budget.ts'
import { methodOf } from '../../../server/trials/runMethod.ts'
import { limitsOf } from '../../../server/trials/trace/reductions/reduction.ts'
import type { TrialPoint } from '../../../server/wire/point.ts'
import { livePlantOf } from '../../support/livePlantOf.ts'
import { plantOf } from '../../support/plants.ts'
import { taking } from '../../support/trialBench.ts'

/** A resistance thermometer reads °C, so a share of the reading counts from 273.15 K on and not from absolute zero. */
const plant = plantOf(`
id: one
name: Two thermometers
use: rig
site: { timeZone: Etc/UTC }
instruments:
  - { id: winding, role: windingTemperature, topic: t/w, unit: Cel, accuracy: { reading: 0.5 %, absolute: 0.3 } }
  - { id: battery, role: batteryTemperature, topic: t/b, unit: Cel, accuracy: { reading: 0.5 %, absolute: 0.3 } }
`)
const { plan } = livePlantOf(plant)
const methodFor = (id: string) => methodOf(trials.find((one) => one.id === id)!, plan)

const ZERO_CELSIUS = 273.15

/** Half-width of the limits in K at a temperature in K. */
const ways: Record<string, (at: number) => number> = {
  reading: (at) => Math.sqrt(3) * instrumentUncertainty(plant.instruments[0]!, at).limits,
  point: (at) => {
    const method = taking('points', methodFor('generatorCharacteristic'))
    const figure = { id: 'windingTemperature', mean: at, typeA: 0, contributions: { winding: 1 } }
    const point = { figures: [figure] } as unknown as TrialPoint
    return budgetOf('windingTemperature', point, method)!.rows[0]!.limits!
  },
  trace: (at) => {
    const method = taking('traces', methodFor('batteryBalance'))
    return limitAt(limitsOf({ method, typed: [] }, 'batteryTemperature'), at)
  },
}

describe.each(Object.keys(ways))('the limits of error of a thermometer in a %s', (way) => {
  // IEC 60751 class B, ±(0.30 + 0.005·|t|) °C; from memory
  it.each([
    [-40, 0.5],
    [0, 0.3],
    [20, 0.4],
    [100, 0.8],
  ])('are at %d °C those of class B: ±%d °C', (celsius, limit) => {
    expect(ways[way]!(celsius + ZERO_CELSIUS)).toBeCloseTo(limit, 12)
  })
})
