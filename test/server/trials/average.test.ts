import { describe, expect, it } from 'vitest'
import { averageFigure } from '../../../server/trials/capture/average.ts'
import { livePlantOf } from '../../support/livePlantOf.ts'
import { plantOf, THREE_SENSORS } from '../../support/plants.ts'

const AT = 1_000_000

/** A plant whose pressure gauge shows the same again and again. */
function reading(accuracy: string) {
  const gauge = /id: gauge.*accuracy: \{ span: 0.25 % \}/
  const text = THREE_SENSORS.replace(gauge, (line) => line.replace('span: 0.25 %', accuracy))
  const plant = plantOf(text)
  const live = livePlantOf(plant)
  live.setConnected(true)
  for (let i = 0; i < 30; i++)
    live.takeReading({
      plant: plant.id,
      instrument: 'gauge',
      quantity: 'inletPressure',
      value: 480_000,
      measuredAt: AT + 1000 * i,
      receivedAt: AT + 1000 * i,
      quality: 'good',
      reasons: [],
    })
  live.tick(AT + 29_000)
  return live
}

describe('a captured point and the live figure of the same readings', () => {
  it.each([
    // in bar; a rectangle holds 95 % in 0.95 of its half-width (JCGM 101:2008)
    ['absolute: 1, distribution: rectangular', 0.95],
    // 95 % inside ± 1 is what such a certificate says
    ['absolute: 1, distribution: normal', 1],
    // two rectangles of half-widths a and b: a + b − √(ab/5), JCGM 100 4.3.9
    ['absolute: 1, resolution: 1, distribution: rectangular', 1 + 0.5 - Math.sqrt(0.5 / 5)],
  ])('have one interval, with an accuracy of { %s }', (accuracy, half) => {
    const live = reading(accuracy)
    const index = live.plan.indexOf.get('inletPressure')!
    const captured = averageFigure(
      'inletPressure',
      Array.from({ length: 40 }, () => 480_000),
      live,
    )!
    expect(live.evaluator.view(index).u95! / 1e5).toBeCloseTo(half, 3)
    expect(captured.u95 / 1e5).toBeCloseTo(half, 3)
  })
})
