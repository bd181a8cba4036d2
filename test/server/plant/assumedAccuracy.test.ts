import { describe, expect, it } from 'vitest'
import { explainFigure } from '../../../server/derive/explain.ts'
import { errorLimits, limitAt } from '../../../server/derive/instrumentUncertainty.ts'
import { roles } from '../../../server/plant/roles.ts'
import { evaluatorBench } from '../../support/evaluatorBench.ts'
import { plantOf, THREE_SENSORS } from '../../support/plants.ts'

const instrument = (text: string) => plantOf(`instruments:\n  - { id: a, topic: t, ${text} }`).instruments[0]!
const limitOf = (text: string, value: number) => limitAt(errorLimits(instrument(text))!, value)

describe('an instrument without accuracy', () => {
  it('is never perfect: each role has an assumed class, marked as such, and a contact has none', () => {
    for (const role of roles) {
      const one = instrument(`role: ${role.id}${role.many ? '.1' : ''}, unit: "${role.unit}"`)
      if (role.discrete) expect(one.accuracy, role.id).toBeUndefined()
      else {
        expect(one.assumed, role.id).toEqual(expect.any(String))
        // the middle of nothing is 0 for a share of the reading: 10 of whatever it is
        expect(limitAt(errorLimits(one)!, 283.15), role.id).toBeGreaterThan(0)
      }
    }
  })

  // IEC 60751:2022, class B: ±(0.3 + 0.005·|t|) °C
  it('is a thermometer of class B in whatever unit it sends', () => {
    expect(limitOf('role: bearingTemperature, unit: Cel', 273.15 + 60)).toBeCloseTo(0.6, 9)
    expect(limitOf('role: bearingTemperature, unit: K', 273.15)).toBeGreaterThan(0.3)
    expect(errorLimits(instrument('role: bearingTemperature, unit: "[degF]"'))!.fixed).toBeCloseTo(0.3, 9)
  })

  // EN 837-1 (from memory): class 1.6 is 1.6 % of the span
  it('is a gauge of class 1.6 where it has a range', () => {
    expect(limitOf('role: inletPressure, unit: bar, range: [0, 10]', 2e5)).toBeCloseTo(0.016 * 10e5, 6)
  })

  it('keeps what the file states, also that it is exact', () => {
    const exact = instrument('role: inletPressure, unit: bar, accuracy: { absolute: 0 }')
    expect(exact.assumed).toBeUndefined()
    expect(limitAt(errorLimits(exact)!, 2e5)).toBe(0)
  })

  it('shows in the explanation of what is computed from it', () => {
    const bench = evaluatorBench(plantOf(THREE_SENSORS.replaceAll(/, accuracy: \{[^}]*\}/g, '')))
    bench.read('inletPressure', 480_000)
    bench.read('discharge', 0.012)
    bench.evaluate()
    expect(bench.view('hydraulicPower').u95).toBeGreaterThan(0)
    const reply = explainFigure(bench.plan, bench.evaluator, 'hydraulicPower')
    expect(reply?.uncertaintyShares).toContainEqual(
      expect.objectContaining({ source: 'meter', assumed: expect.stringContaining('flow meter') }),
    )
    const measured = explainFigure(bench.plan, bench.evaluator, 'discharge')
    expect(measured?.instrument?.accuracy).toMatch(/^± 2 % of reading \(assumed: /)
  })
})
