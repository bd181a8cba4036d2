import { describe, expect, it } from 'vitest'
import { planFigures } from '../../../server/derive/plan.ts'
import { plantOf, THREE_SENSORS, threeSensorPlant } from '../../support/plants.ts'

describe('planFigures', () => {
  it('gives a plant with pressure, flow and power its head, hydraulic power and water-to-wire efficiency', () => {
    const plan = planFigures(threeSensorPlant())
    expect([...plan.indexOf.keys()]).toEqual(
      expect.arrayContaining([
        'netHead',
        'hydraulicPower',
        'waterToWireEfficiency',
        'waterDensity',
        'gravity',
      ]),
    )
  })

  it('puts every input before the figure that uses it', () => {
    const plan = planFigures(threeSensorPlant())
    for (const node of plan.nodes)
      if (node.kind === 'derived') for (const input of node.inputs) expect(input).toBeLessThan(node.index)
  })

  it('asks for all of a list that has to be whole, and leaves out a formula whose lists do not go together', () => {
    const two = [1, 2].map((k) => `  - { id: u${k}, role: phaseVoltage.${k}, topic: mill/u${k}, unit: V }`)
    const one = '  - { id: i1, role: phaseCurrent.1, topic: mill/i1, unit: A }'
    const own =
      "figures:\n  - { id: both, name: Both, unit: W, formula: sum(U * I), inputs: { U: 'phaseVoltage.*', I: 'phaseCurrent.*' } }"
    const { missing } = planFigures(plantOf([THREE_SENSORS.trimEnd(), ...two, one, own].join('\n')))
    expect(missing.find(({ id }) => id === 'apparentPower')?.needs).toMatch(/^needs phase voltage/)
    expect(missing.find(({ id }) => id === 'both')?.needs).toBe(
      'needs as many of one as of the other in "U * I"',
    )
  })

  it('says what the figures it cannot give would need', () => {
    const missing = planFigures(threeSensorPlant()).missing
    expect(missing.find((one) => one.id === 'shaftPower')?.needs).toBe(
      'needs shaft torque and speed, or generator.efficiencyCurve in the plant file',
    )
  })
})
