import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { notifyFileSchema } from '../../server/alarms/notify/settings.ts'
import { planPlant } from '../../server/livePlant.ts'
import { describeOptions } from '../../server/options.ts'
import { readDocument } from '../../server/plant/load.ts'
import { plantFileSchema } from '../../server/plant/schema.ts'
import { VERSION } from '../../server/version.ts'
import { plantOf } from '../support/plants.ts'
import { root } from '../support/root.ts'

const readme = readFileSync(join(root, 'README.md'), 'utf8')

describe('README', () => {
  it('shows a plant file that is in order and gives head, hydraulic power and efficiency', () => {
    const example = /```yaml\n(headrace: 1[\s\S]*?)```/.exec(readme)![1]!
    const plant = plantOf(example)
    const { plan, faults } = planPlant(plant)
    expect(faults).toEqual([])
    expect(plant.alarms.length).toBe(1)
    for (const figure of ['netHead', 'hydraulicPower', 'waterToWireEfficiency'])
      expect(plan.indexOf.has(figure), figure).toBe(true)
  })

  it('shows a notification file that is in order, with every field that there is', () => {
    const example = /```yaml\n(headraceNotify: 1[\s\S]*?)```/.exec(readme)![1]!
    expect(readDocument(example, notifyFileSchema)).not.toHaveProperty('faults')
    for (const field of Object.keys(notifyFileSchema.shape))
      expect(example, field).toMatch(new RegExp(`^${field}:`, 'm'))
  })

  it('names only options that there are', () => {
    const options = describeOptions()
    for (const [flag] of readme.matchAll(/(?<=\s|`)--[a-z][a-z-]+/g))
      if (flag !== '--profile') expect(options, flag).toContain(flag)
  })

  it('belongs to a program whose version is that of package.json', () => {
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string }
    expect(VERSION).toBe(version)
  })

  it('lists every section of the plant file', () => {
    for (const section of Object.keys(plantFileSchema.shape))
      expect(readme, section).toMatch(new RegExp(`\\b${section}\\b`))
  })
})
