import { describe, expect, it } from 'vitest'
import { compilePlantExpression, isStateWord } from '../../../server/alarms/expression.ts'
import { stateView } from '../../../server/wire/plant.ts'
import { plantOf } from '../../support/plants.ts'

const STATES = stateView.shape.state.options
const plant = plantOf(`
instruments:
  - { id: power, role: activePower, topic: mill/power, unit: W }
`)

/** In which states a condition of one word holds, and in which nobody can say. */
function statesOf(word: string): { holds: string[]; open: string[] } {
  const condition = compilePlantExpression(word, { plant, figures: [] })
  const valueIn = (state: (typeof STATES)[number]) => condition.evaluate({ value: () => 0 }, state)
  return {
    holds: STATES.filter((state) => valueIn(state) === 1),
    open: STATES.filter((state) => Number.isNaN(valueIn(state))),
  }
}

// A rule of the house, no outside source: an alarm that means nothing in a state is left out only while that state is certain.
describe('the words for the state of the machine in conditions of alarms', () => {
  it.each([
    ['running', ['generating', 'overSpeed'], ['turning', 'unknown']],
    ['motoring', ['motoring'], ['turning', 'unknown']],
    ['starting', ['starting'], ['turning', 'unknown']],
    ['stopped', ['stopped'], ['unknown']],
    [
      'turning',
      ['generating', 'starting', 'noLoad', 'runDown', 'motoring', 'overSpeed', 'turning'],
      ['unknown'],
    ],
  ])('%s holds in its states, and is open where nobody can say', (word, holds, open) => {
    expect(statesOf(word)).toEqual({ holds, open })
    expect(isStateWord(word)).toBe(true)
  })
})
