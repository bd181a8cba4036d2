import { describe, expect, it } from 'vitest'
import { planFigures } from '../../../server/derive/plan.ts'
import { threeSensorPlant } from '../../support/plants.ts'

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

  it('says what the figures it cannot give would need', () => {
    const missing = planFigures(threeSensorPlant()).missing
    expect(missing.find((one) => one.id === 'shaftPower')?.needs).toBe(
      'needs shaft torque and speed, or generator.efficiencyCurve in the plant file',
    )
  })
})
