import { describe, expect, it } from 'vitest'
import { createEvaluator } from '../../../server/derive/evaluate.ts'
import { explainFigure } from '../../../server/derive/explain.ts'
import { planFigures } from '../../../server/derive/plan.ts'
import type { Reading } from '../../../server/ingest/reading.ts'
import { figureBench } from '../../support/figureBench.ts'
import { START } from '../../support/manualClock.ts'
import { threeSensorPlant } from '../../support/plants.ts'

function reading(instrument: string, quantity: string, value: number, at = START): Reading {
  return {
    plant: 'mill',
    instrument,
    quantity,
    value,
    measuredAt: at,
    receivedAt: at,
    quality: 'good',
    reasons: [],
  }
}

function live() {
  const plan = planFigures(threeSensorPlant())
  const evaluator = createEvaluator(plan)
  evaluator.setConnected(true)
  evaluator.take(reading('gauge', 'inletPressure', 480_000))
  evaluator.take(reading('meter', 'discharge', 0.012))
  evaluator.take(reading('power', 'activePower', 4000))
  evaluator.evaluate(START)
  return { plan, evaluator }
}

describe('explainFigure', () => {
  it('shows the formula of hydraulic power with symbols and with the numbers of the moment', () => {
    const { plan, evaluator } = live()
    const formula = explainFigure(plan, evaluator, 'hydraulicPower')?.formula
    expect(formula?.symbols).toBe('ρ · g · Q · H_n')
    expect(formula?.numbers).toMatch(/^1000 · 9.81 · 0.012 · 49\.\d+$/)
  })

  it('names the instrument, its topic and its accuracy for a measured figure', () => {
    const { plan, evaluator } = live()
    expect(explainFigure(plan, evaluator, 'discharge')?.instrument).toMatchObject({
      topic: 'mill/flow',
      accuracy: '± 1 % of reading',
    })
  })

  it('splits the uncertainty of hydraulic power among its instruments and constants, shares adding up to one', () => {
    const { plan, evaluator } = live()
    const shares = explainFigure(plan, evaluator, 'hydraulicPower')!.uncertaintyShares
    expect(shares.map((one) => one.source).slice(0, 2)).toEqual(['meter', 'gauge'])
    expect(shares.reduce((sum, one) => sum + one.share, 0)).toBeCloseTo(1, 2)
  })

  it('shows a list member by member, with its curve', () => {
    const bench = figureBench(
      { turbine: '{ kind: turgo, jets: 2, nozzleBore: 32 mm, nozzleCurve: [[0, 0], [1, 0.9]] }' },
      { inletPressure: '4 bar', 'needleStroke.1': '1', 'needleStroke.2': '0.5' },
    )
    const reply = explainFigure(bench.plan, bench.evaluator, 'nozzleCoefficient')!
    expect(reply.formula?.symbols).toBe('sum(nozzle(s))')
    expect(reply.formula?.numbers).toBe('sum(nozzle(1), nozzle(0.5))')
    expect(reply.inputs.map(({ figure }) => figure.id)).toEqual(['needleStroke.1', 'needleStroke.2'])
  })

  it('shows a whole list within one member of it', () => {
    const bench = figureBench(
      {
        figures:
          '[{ id: above, name: Above, formula: sum(abs(j - mean(j))), inputs: { j: jetOpen.* }, unit: "1" }]',
      },
      { 'jetOpen.1': '1', 'jetOpen.2': '0' },
    )
    const reply = explainFigure(bench.plan, bench.evaluator, 'above')!
    expect(reply.formula?.numbers).toBe('sum(abs(1 − mean(1, 0)), abs(0 − mean(1, 0)))')
    expect(reply.value.value).toBe(1)
  })

  it('shows an input that the plant does not have among the constants, with what it counts as', () => {
    const bench = figureBench({}, { activePower: '10 kW', dumpPower: '2 kW' })
    const reply = explainFigure(bench.plan, bench.evaluator, 'usefulShare')!
    expect(reply.formula?.numbers).toBe('(10000 − 2000 − 0 − 0) / 10000')
    expect(reply.inputs.map(({ figure }) => figure.id)).toEqual(['activePower', 'dumpPower'])
    expect(reply.constants).toEqual([
      { symbol: 'P_t', value: 0, unit: 'W', path: 'not measured, counted as nothing' },
      { symbol: 'P_x', value: 0, unit: 'W', path: 'not measured, counted as nothing' },
    ])
  })

  it('gives nothing for a figure that the plant does not have', () => {
    const { plan, evaluator } = live()
    expect(explainFigure(plan, evaluator, 'stateOfCharge')).toBeUndefined()
  })
})
