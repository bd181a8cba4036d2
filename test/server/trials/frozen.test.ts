import { expect, it } from 'vitest'
import { FROZEN } from '../../../server/derive/stillWatch.ts'
import { NOT_STEADY } from '../../../server/derive/storageWatch.ts'
import type { FigurePlant } from '../../../server/mirror/shownPlant.ts'
import { createSamples } from '../../../server/trials/capture/samples.ts'

/** One figure with these reasons. */
function plantWith(reasons: string[]): FigurePlant {
  return {
    plan: { indexOf: new Map([['speed', 0]]), nodes: [{ description: { name: 'Speed' } }] },
    evaluator: { view: () => ({ value: 1500, at: 0, quality: 'uncertain', reasons }), at: () => 0 },
  } as unknown as FigurePlant
}

it('takes no sample of a figure that leans on a frozen instrument, and says which it is', () => {
  const samples = createSamples(
    plantWith([`shaft tachometer: ${FROZEN}: exactly 1500 /min`]),
    ['speed'],
    new Set(['speed']),
  )
  expect(samples.take(0)).toEqual([`Speed: shaft tachometer: ${FROZEN}: exactly 1500 /min`])
  expect(samples.at).toEqual([])
  expect(createSamples(plantWith(['estimated']), ['speed'], new Set(['speed'])).take(0)).toEqual([])
})

it('begins the window anew after a sample in which the rotor still takes up power, and says so meanwhile', () => {
  const reasons: string[] = []
  const samples = createSamples(plantWith(reasons), ['speed'], new Set(['speed']))
  samples.take(0)
  samples.take(500)
  expect(samples.unsettled()).toBeUndefined()
  reasons.push(`${NOT_STEADY}: the rotor takes up 16 W`)
  samples.take(1000)
  expect(samples.unsettled()).toBe('Speed: not steady: the rotor takes up 16 W')
  reasons.length = 0
  samples.take(1500)
  expect(samples.at).toEqual([1500])
  expect(samples.remarks()).toEqual([])
})
