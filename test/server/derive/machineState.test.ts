import { describe, expect, it } from 'vitest'
import { createMachineState } from '../../../server/derive/machineState.ts'
import { perMinute } from '../../support/alarmBench.ts'
import { evaluatorBench } from '../../support/evaluatorBench.ts'
import { START } from '../../support/manualClock.ts'
import { plantOf } from '../../support/plants.ts'

const plantWith = (instruments: string) =>
  plantOf(`
generator: { kind: induction, ratedSpeed: 1000 /min, ratedPower: 10 kW }
instruments:
${instruments}`)

const SPEED = '  - { id: tacho, role: speed, topic: mill/speed, unit: /min }\n'
const POWER = '  - { id: meter, role: activePower, topic: mill/power, unit: kW }\n'

function stateOf(instruments: string, readings: Record<string, number>) {
  const bench = evaluatorBench(plantWith(instruments))
  for (const [quantity, value] of Object.entries(readings)) bench.read(quantity, value)
  bench.evaluate()
  return createMachineState(bench.figures).tick(START)
}

describe('createMachineState', () => {
  it.each([
    ['running', { speed: perMinute(1000), activePower: 8000 }],
    ['stopped', { speed: perMinute(500), activePower: 0 }],
    ['standstill', { speed: 0, activePower: 0 }],
    ['overSpeed', { speed: perMinute(1100), activePower: 0 }],
    ['running', { activePower: 8000 }],
  ])('is %s', (state, readings) => {
    expect(stateOf(SPEED + POWER, readings).state).toBe(state)
  })

  it('never says stopped while the speed is lost: a machine without load makes no power either', () => {
    const { state, sentence } = stateOf(SPEED + POWER, { activePower: 0 })
    expect(state).toBe('unknown')
    expect(sentence).toMatch(/may be turning fast/)
  })

  it('goes by the power alone where no speed is measured', () => {
    expect(stateOf(POWER, { activePower: 0 }).state).toBe('stopped')
  })

  it('says unknown before any reading', () => {
    expect(stateOf(SPEED + POWER, {}).state).toBe('unknown')
  })
})
