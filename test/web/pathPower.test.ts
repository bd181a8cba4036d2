import { describe, expect, it } from 'vitest'
import { largestPower } from '../../web/hold/pathPower.ts'
import { createPlantHold } from '../../web/hold/plantHold.ts'
import { MORNING, snapshotAt } from './support.ts'

function holdAt(power: number) {
  const hold = createPlantHold(snapshotAt(MORNING))
  for (const figure of hold.figures)
    if (figure.description.unit === 'W') figure.value.value = { ...figure.value.value, value: power }
  return hold
}

describe('largestPower', () => {
  it('is the largest power of the path while the plant works', () => {
    expect(largestPower(holdAt(800))).toBe(800)
  })

  it('keeps to a tenth of the rating at standstill, so that noise of 1 W does not fill the band', () => {
    expect(largestPower(holdAt(1))).toBeGreaterThan(10)
  })
})
