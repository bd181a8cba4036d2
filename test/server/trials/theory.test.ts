import { describe, expect, it } from 'vitest'
import { trials } from '../../../server/trials/definitions/index.ts'
import { methodOf } from '../../../server/trials/runMethod.ts'
import { theoryView } from '../../../server/trials/theory/theoryView.ts'
import type { TrialPoint } from '../../../server/wire/point.ts'
import { playPlant } from '../../support/playedPlant.ts'
import { taking } from '../../support/trialBench.ts'

const { live } = playPlant('quennerby')
const methodFor = (trial: string) =>
  taking('points', methodOf(trials.find((one) => one.id === trial)!, live.plan))

/** A kept point with these means, SI. */
const at = (number: number, means: Record<string, number>) =>
  ({
    number,
    verdict: 'kept',
    figures: Object.entries(means).map(([id, mean]) => ({ id, mean, contributions: {} })),
  }) as unknown as TrialPoint

/** y of a line at x, straight between its places. */
function heightAt(line: { x: number[]; y: number[] }, x: number): number {
  const next = line.x.findIndex((one) => one >= x - 1e-12)
  if (next <= 0) return line.y[next]!
  const [x0, x1, y0, y1] = [line.x[next - 1]!, line.x[next]!, line.y[next - 1]!, line.y[next]!]
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0)
}

describe('the line that the plant file predicts', () => {
  // design sheet of the rig (test/support/designSheets.ts), V over A at 50 Hz
  it.each([
    [1, 26.71],
    [3, 26.09],
    [5, 25.42],
    [7, 24.68],
  ])('at 50 Hz and %d A is %d V for the generator', (current, voltage) => {
    const points = [0, 8].map((I, i) =>
      at(i + 1, { meanPhaseCurrent: I, meanPhaseVoltage: 25, frequency: 50 }),
    )
    const { lines } = theoryView(methodFor('generatorCharacteristic'), points, 'actual')!
    expect(lines).toHaveLength(1)
    expect(heightAt(lines[0]!, current)).toBeCloseTo(voltage, 2)
  })

  // the same sheet: efficiency 0.62, 0.685, 0.70, 0.70 with 1 to 4 jets; 0.901 L/s a jet
  it.each([
    [1, 0.62],
    [2, 0.685],
    [3, 0.7],
    [4, 0.7],
  ])('with %d jets is %d for the turbine, over discharge and over unit discharge', (jets, efficiency) => {
    const point = at(1, { discharge: 0.0018, turbineEfficiency: 0.6 })
    const method = methodFor('efficiencyDischarge')
    const discharge = (jets * 0.003605) / 4
    const [actual] = theoryView(method, [point], 'actual')!.lines
    expect(heightAt(actual!, discharge)).toBeCloseTo(efficiency, 4)
    const [unit] = theoryView(method, [point], 'unit')!.lines
    // Q11 = Q/(D²·√H), D = 123 mm, H = 24 m
    expect(heightAt(unit!, discharge / (0.123 ** 2 * Math.sqrt(24)))).toBeCloseTo(efficiency, 4)
  })

  it('has a pump line for each speed of the run: H = s²·36.0 − 0.708·Q² with Q in L/s', () => {
    const points = [1, 0.8].map((s, i) => at(i + 1, { discharge: 0.002, pumpHead: 30, pumpSpeed: s }))
    const { lines } = theoryView(methodFor('pumpCurve'), points, 'actual')!
    expect(lines).toHaveLength(2)
    // the table of the plant file is straight between its points, 0.721 L/s apart: at most 0.708·0.36² = 0.092 m below
    expect(Math.abs(heightAt(lines[0]!, 0.002) - (36 - 0.708 * 4))).toBeLessThan(0.1)
    expect(Math.abs(heightAt(lines[1]!, 0.002) - (0.64 * 36 - 0.708 * 4))).toBeLessThan(0.1)
  })

  it('gives the nozzles their rated discharge of 0.901 L/s a jet at 24 m', () => {
    const points = [10, 26].map((H, i) =>
      at(i + 1, { netHead: H, discharge: 0.0009, openJets: 1, gravity: 9.81 }),
    )
    const { lines } = theoryView(methodFor('nozzleLaw'), points, 'actual')!
    // on a grid of 60 places the root is straight between two of them: 1e-7 m³/s
    expect(heightAt(lines[0]!, 24)).toBeCloseTo(0.901e-3, 6)
  })

  it('is not drawn where no point is kept, nor where the plant file says nothing', () => {
    expect(theoryView(methodFor('efficiencyDischarge'), [], 'actual')).toBeNull()
    const point = at(1, { speed: 150, turbineEfficiency: 0.6 })
    expect(theoryView(methodFor('efficiencySpeed'), [point], 'actual')).toBeNull()
  })
})
